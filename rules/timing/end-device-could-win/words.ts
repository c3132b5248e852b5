import { listNames, type FindingWords } from '../../../src/doors/rule.js';
import { spanWords, type Span } from '../../../src/doors/timing.js';

export interface Facts {
  readonly domain: number;
  readonly lost: readonly string[];
  /** The end device that leads then. */
  readonly to: string;
  /** After the last Announce; undefined where it is not known. */
  readonly takeover: Span | undefined;
  /** Others that are meant to lead stand by, and it goes before them. */
  readonly beforeBackup: boolean;
  /** More end devices that may lead. */
  readonly others: readonly string[];
  /** Whether there are boundary clocks, to lead as the last resort. */
  readonly boundaryClocks: boolean;
}

export type Note = 'takes over' | 'could take over' | 'lost';

export function words(facts: Facts): FindingWords<Note> {
  const { domain, to, takeover, beforeBackup, others, boundaryClocks } = facts;
  const lost = listNames(facts.lost);
  return {
    what: `after the loss of ${lost}, ${to} becomes grandmaster of domain ${domain} ${spanWords(takeover)}: it is not meant to lead${beforeBackup ? ', and ranks ahead of the backup' : ''}${others.length === 0 ? '' : `; ${listNames(others)} could too`}`,
    onAir: `every picture and sound locked to ${lost} steps when ${to} takes over, then free-runs with its own time of day; when a grandmaster is back, all of it steps again`,
    fix: `set slaveOnly true on ${others.length === 0 ? to : `each of these ${others.length + 1} devices`}${boundaryClocks ? ', so that a boundary clock is the last resort' : ''}`,
    label: (name, note) => `${name}: ${note}`,
  };
}
