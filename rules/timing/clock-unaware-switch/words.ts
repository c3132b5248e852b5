import { agree, counted, listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly switch: string;
  /** Whether it says that it is no clock, or says nothing of PTP. */
  readonly isStated: boolean;
  /** Clocks that get their time through it. */
  readonly served: readonly string[];
  /** Boundary clocks of the same rig and domain. */
  readonly boundary: readonly string[];
}

export function words({ switch: at, isStated, served, boundary }: Facts): FindingWords<'boundary clock'> {
  const through = `${counted(served.length, 'clock')} (${listNames(served)}) ${agree(served.length, 'gets its', 'get their')} time through it`;
  return {
    what: `${at} ${isStated ? 'is no clock' : 'states no PTP mode'}, and ${through}; ${listNames(boundary)} ${agree(boundary.length, 'is a boundary clock', 'are boundary clocks')}`,
    onAir:
      'time waits there behind pictures, by a different amount for each message: it locks at the line-up and gets worse, or is lost, once all cameras send',
    fix: `make ${at} a boundary clock of this domain (class 248), or a transparent clock where it can only do that`,
    label: (name, note) => `${name}: ${note}`,
  };
}
