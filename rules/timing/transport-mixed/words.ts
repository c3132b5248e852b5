import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';
import { PTP_ADDRESSES, type PtpTransport } from '../../../src/doors/timing.js';

export interface Facts {
  readonly clocks: readonly string[];
  readonly transport: PtpTransport;
  readonly domain: number;
  /** What the grandmasters of the domain speak. */
  readonly led: PtpTransport;
}

/** What the clock speaks. */
export type Note = PtpTransport;

export function words({ clocks, transport, domain, led }: Facts): FindingWords<Note> {
  return {
    what: `${listNames(clocks)} ${agree(clocks.length, 'speaks', 'speak')} PTP over ${transport} (${PTP_ADDRESSES[transport].primary}), the grandmasters of domain ${domain} over ${led} (${PTP_ADDRESSES[led].primary})`,
    onAir:
      'they never hear the grandmaster and free-run: pictures and sound of them drift from switch-on, and no box shows an alarm',
    fix: `set transport ${led} on ${listNames(clocks)}`,
    label: (name, note) => `${name}: ${note}`,
  };
}
