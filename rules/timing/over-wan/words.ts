import { agree, counted, linkLabel, listNames, type FindingWords, type Link } from '../../../src/doors/rule.js';

export interface Facts {
  /** Clocks that have no traceable time without the circuits. */
  readonly clocks: readonly string[];
  readonly circuits: readonly Link[];
}

export function words({ clocks, circuits }: Facts): FindingWords<'far'> {
  return {
    what: `${counted(clocks.length, 'clock')} (${listNames(clocks)}) ${agree(clocks.length, 'gets its', 'get their')} time over ${listNames(circuits.map(linkLabel))} alone: without it no grandmaster with a reference is in reach`,
    onAir:
      'delay that differs between the two directions turns into an error of half the difference, and when the circuit is lost the far side drifts: pictures and sound slip, and step when it is back',
    fix: 'put a grandmaster with GNSS or another primary reference at the far side, in the same domain; both sides then keep the same time without the circuit',
    label: (name) => `${name}: far from its grandmaster`,
  };
}
