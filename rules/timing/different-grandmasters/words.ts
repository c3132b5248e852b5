import { counted, listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly domain: number;
  readonly leaders: readonly {
    readonly name: string;
    readonly clockClass: number;
    /** Clocks that keep its time. */
    readonly followers: number;
  }[];
  /** The first of them without a reference. */
  readonly unreferenced: string;
}

export function words({ domain, leaders, unreferenced }: Facts): FindingWords<'no reference'> {
  const parts = leaders.map(
    ({ name, clockClass, followers }) => `${name} (clock class ${clockClass}) leads ${counted(followers, 'clock')}`,
  );
  return {
    what: `domain ${domain} has ${leaders.length} grandmasters at once, and not all of them have a reference: ${listNames(parts)}`,
    onAir:
      'the parts drift against each other: the two legs of a redundant stream move apart until switching between them clicks or jumps, and pictures of one part slip against those of the other',
    fix: `lock ${unreferenced} to a primary reference (clock class 6), or join the networks of all of them with boundary clocks, so that one leads and the rest stand by`,
    label: (name) => `${name}: without a reference`,
  };
}
