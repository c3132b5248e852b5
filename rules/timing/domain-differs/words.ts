import { agree, listNames, type FindingWords, type Receiver, type Sender } from '../../../src/doors/rule.js';

export type Facts =
  | {
      readonly form: 'unplanned';
      readonly clocks: readonly string[];
      readonly domain: number;
      /** Domains the rig plans. */
      readonly planned: readonly number[];
    }
  | {
      readonly form: 'crossed';
      readonly low: number;
      readonly high: number;
      readonly streams: readonly { readonly sender: Sender; readonly receiver: Receiver }[];
      /** Clocks of the domain with fewer of them. */
      readonly few: readonly string[];
      /** The other domain. */
      readonly to: number;
    };

export interface Note {
  readonly domain: number;
}

export function words(facts: Facts): FindingWords<Note> {
  const label = (name: string, { domain }: Note): string => `${name}: domain ${domain}`;
  if (facts.form === 'unplanned') {
    const { clocks, domain } = facts;
    const planned = listNames(facts.planned.map(String));
    return {
      what: `${listNames(clocks)} ${agree(clocks.length, 'is', 'are')} in PTP domain ${domain}; the plan has ${planned}`,
      onAir: onAirWords('with the rest of the rig'),
      fix: `set the PTP domain to ${planned}`,
      label,
    };
  }
  const { low, high, streams, few, to } = facts;
  const passing = streams.map(({ sender, receiver }) => `${sender.label} at ${receiver.label}`);
  return {
    what: `streams pass between PTP domains ${low} and ${high}: ${listNames(passing)}`,
    onAir: onAirWords('at these receivers'),
    fix: `put ${listNames(few)} into domain ${to} like the others, or leave both domains only where their grandmasters are locked to the same primary reference`,
    label,
  };
}

function onAirWords(where: string): string {
  return `nothing warns of it, and each domain keeps its own time: sound clicks and pictures repeat or drop frames ${where}, from every few seconds to every few hours`;
}
