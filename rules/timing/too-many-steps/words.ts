import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly clocks: readonly string[];
  /** The one where the chain first passes the limit. */
  readonly first: string;
  readonly grandmaster: string;
  /** Steps of the farthest. */
  readonly farthest: number;
  /** Steps allowed. */
  readonly most: number;
}

export interface Note {
  readonly steps: number;
  readonly grandmaster: string;
}

export function words({ clocks, first, grandmaster, farthest, most }: Facts): FindingWords<Note> {
  return {
    what: `${listNames(clocks)} ${agree(clocks.length, 'is', 'are')} up to ${farthest} steps from ${grandmaster}, more than ${most}`,
    onAir:
      'nothing at once; time at the far end wanders with every boundary clock on the path, and after a change of grandmaster it settles there last: pictures locked to it slip against the others',
    fix: `attach ${first} nearer to ${grandmaster}, or bring a grandmaster nearer to it`,
    label: (name, note) => `${name}: ${name}: ${note.steps} steps from ${note.grandmaster}`,
  };
}
