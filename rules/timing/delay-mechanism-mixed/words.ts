import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { DelayMechanism } from '../../../src/doors/timing.js';

export interface Facts {
  readonly followers: readonly string[];
  readonly parent: string;
  readonly followersMeasure: DelayMechanism;
  readonly parentMeasures: DelayMechanism;
}

/** How the clock measures. */
export type Note = DelayMechanism;

export function words({ followers, parent, followersMeasure, parentMeasures }: Facts): FindingWords<Note> {
  const one = followers.length === 1;
  return {
    what: `${listNames(followers)} ${agree(followers.length, 'measures', 'measure')} path delay ${WAYS[followersMeasure]}, ${parent} ${one ? 'it follows' : 'they follow'} ${WAYS[parentMeasures]}`,
    onAir: one
      ? 'it chooses its grandmaster and never locks: pictures and sound of it drift from switch-on'
      : 'they choose their grandmaster and never lock: pictures and sound of them drift from switch-on',
    fix: `set delayMechanism ${parentMeasures} on ${listNames(followers)}`,
    label: (name, note) => `${name}: ${note}`,
  };
}

const WAYS = { e2e: 'end to end', p2p: 'from peer to peer' } as const;
