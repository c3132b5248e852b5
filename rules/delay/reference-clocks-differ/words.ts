import {
  agree,
  legLabel,
  listNames,
  type FindingWords,
  type Leg,
  type Receiver,
  type Sender,
} from '../../../src/doors/rule.js';

export type Facts =
  | {
      readonly form: 'legs';
      readonly sender: Sender;
      /** Its legs that state a clock, as SDP writes it. */
      readonly stated: readonly { readonly leg: Leg; readonly clock: string }[];
    }
  | {
      readonly form: 'domain';
      readonly sender: Sender;
      readonly domain: number;
      readonly receivers: readonly Receiver[];
      /** Domains these follow. */
      readonly followed: readonly number[];
    };

/** The clock a leg states, or the PTP domain of a stream or a receiver. */
export type Note = { readonly clock: string } | { readonly domain: number };

export function words(facts: Facts): FindingWords<Note> {
  const label = (name: string, note: Note): string =>
    'clock' in note ? `${name}: ${note.clock}` : `${name}: domain ${note.domain}`;
  if (facts.form === 'legs') {
    const { sender, stated } = facts;
    return {
      what: `the legs of ${sender.label} state different reference clocks: ${stated.map(({ leg, clock }) => `${legLabel(leg)} ${clock}`).join(', ')}`,
      onAir: 'receivers can not join the two legs: they refuse one, or jump whenever one takes over from the other',
      fix: 'let both legs state the clock their sender follows',
      label,
    };
  }
  const { sender, domain, receivers, followed } = facts;
  return {
    what: `${sender.label} goes by PTP domain ${domain}, and ${listNames(receivers.map((one) => one.label))} by ${agree(followed.length, 'domain')} ${listNames(followed.map(String))}`,
    onAir:
      'receivers refuse the stream, or play it by another clock: sound clicks, pictures repeat or drop frames, as the clocks drift apart',
    fix: `let sender and ${agree(receivers.length, 'receiver')} follow one PTP domain, or, where only the description is old, state the domain the sender follows`,
    label,
  };
}
