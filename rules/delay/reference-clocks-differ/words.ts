import {
  agree,
  legLabel,
  listNames,
  type FindingWords,
  type Leg,
  type Receiver,
  type Sender,
} from '../../../src/lint/rule.js';

interface LegFacts {
  readonly form: 'legs';
  readonly sender: Sender;
  readonly legs: readonly Leg[];
  /** Of each leg, as RFC 7273 writes it. */
  readonly clocks: readonly string[];
}

interface DomainFacts {
  readonly form: 'domain';
  readonly sender: Sender;
  /** The PTP domain its description names. */
  readonly domain: number;
  readonly receivers: readonly Receiver[];
  /** Domains the receivers follow. */
  readonly followed: readonly number[];
}

export type Facts = LegFacts | DomainFacts;

export type Note = { readonly clock: string } | { readonly domain: number | undefined };

export function words(facts: Facts): FindingWords<Note> {
  return { ...(facts.form === 'legs' ? legWords(facts) : domainWords(facts)), label };
}

function label(name: string, note: Note): string {
  return 'clock' in note ? `${name}: ${note.clock}` : `${name}: domain ${note.domain ?? ''}`;
}

function legWords({ sender, legs, clocks }: LegFacts): FindingWords {
  const stated = legs.map((leg, index) => `${legLabel(leg)} ${clocks[index] ?? ''}`);
  return {
    what: `the legs of ${sender.label} state different reference clocks: ${stated.join(', ')}`,
    onAir: 'receivers can not join the two legs: they refuse one, or jump whenever one takes over from the other',
    fix: 'let both legs state the clock their sender follows',
  };
}

function domainWords({ sender, domain, receivers, followed }: DomainFacts): FindingWords {
  return {
    what: `${sender.label} goes by PTP domain ${domain}, and ${listNames(receivers.map((one) => one.label))} by ${agree(followed.length, 'domain')} ${listNames(followed.map(String))}`,
    onAir:
      'receivers refuse the stream, or play it by another clock: sound clicks, pictures repeat or drop frames, as the clocks drift apart',
    fix: `let sender and ${agree(receivers.length, 'receiver')} follow one PTP domain, or, where only the description is old, state the domain the sender follows`,
  };
}
