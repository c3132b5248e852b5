import {
  agree,
  legLabel,
  listNames,
  nothingOf,
  type FindingWords,
  type Interface,
  type Leg,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly source: string;
  /** Those that state it. */
  readonly legs: readonly Leg[];
  /** The interface they leave by. */
  readonly via: Interface;
  /** Its own address of the source's family. */
  readonly own: string | undefined;
  /** Who has the source for an address. */
  readonly owners: readonly string[];
  /** Another interface of the same device that has it. */
  readonly sibling: string | undefined;
}

export type Note = { readonly says: 'states' | 'sends' } | { readonly says: 'has'; readonly address: string };

export function words({ source, legs, via, own, owners, sibling }: Facts): FindingWords<Note> {
  const from = `${via.device.name} ${via.name}`;
  const whose = owners.length === 0 ? 'which nothing in the plan has' : `the address of ${listNames(owners)}`;
  const leaves = `${agree(legs.length, 'leaves', 'leave')} by ${from}${own === undefined ? '' : `, which is ${own}`}`;
  const otherWay =
    owners.length === 0
      ? `, or give ${from} the address ${source}`
      : sibling === undefined
        ? ''
        : `, or send from ${via.device.name} ${sibling}`;
  return {
    what: `${listNames(legs.map(legLabel))} ${agree(legs.length, 'states', 'state')} source ${source}, ${whose}, but ${leaves}`,
    onAir: `receivers that ask for source ${source} get nothing from this sender: ${nothingOf(legs.map((leg) => leg.sender))}, on every receiver that filters by source`,
    fix:
      own === undefined
        ? `write the address of ${from} as \`source\`, or leave \`source\` out`
        : `write source ${own}${otherWay}`,
    label: (name, note) => `${name}: ${saysWords(note)}`,
  };
}

function saysWords(note: Note): string {
  switch (note.says) {
    case 'states':
      return 'states this source';
    case 'sends':
      return 'sends from this address';
    case 'has':
      return `has ${note.address}`;
  }
}
