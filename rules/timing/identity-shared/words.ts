import { listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly identity: string;
  readonly clocks: readonly string[];
  /** Two of them hear each other. */
  readonly meets: boolean;
  /** What the MACs of those give that state the shared one and have others. */
  readonly byMac: readonly { readonly name: string; readonly identity: string }[];
}

export function words({ identity, clocks, meets, byMac }: Facts): FindingWords<'read again'> {
  return {
    what: `${listNames(clocks)} have the clock identity ${identity}`,
    onAir: meets
      ? 'each takes the Announces of the other for an echo of its own and drops them: both may lead at once, and what follows cannot tell them apart and jumps between them'
      : 'nothing while they do not hear each other; once they do, each drops the Announces of the other, and both may lead at once',
    fix:
      byMac.length === 0
        ? 'read the identity off each box, and correct the plan; where the boxes do show the same, one has the wrong MAC'
        : `read the identity off each box; by its MAC ${listNames(byMac.map((one) => `${one.name} has ${one.identity}`))}`,
    label: (name) => `${name}: read this one again`,
  };
}
