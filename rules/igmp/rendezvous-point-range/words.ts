import { agree, listNames, type FindingWords, type Vlan } from '../../../src/doors/rule.js';
import { vlansWords } from '../../../src/doors/igmp.js';

export interface Facts {
  readonly point: string;
  /** Those that name it. */
  readonly vlans: readonly Vlan[];
  /** What it serves and should not. */
  readonly ranges: readonly string[];
}

/** What one VLAN has it serve. */
export interface Note {
  readonly ranges: readonly string[];
}

export function words({ point, vlans, ranges }: Facts): FindingWords<Note> {
  return {
    what: `rendezvous point ${point} of ${vlansWords(vlans.map(({ name }) => name))} serves ${listNames(ranges)}, which ${agree(ranges.length, 'is', 'are')} source-specific`,
    onAir:
      "joins without a source, which should be refused, may be taken: a receiver set up wrongly works in the yard and is dark behind the next router, and anybody's packets to the group get through",
    fix: `take ${listNames(ranges)} out of its groups; source-specific groups need no rendezvous point`,
    label: (name, note) => `${name}: ${listNames(note.ranges)}`,
  };
}
