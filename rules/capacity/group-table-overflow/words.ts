import type { FindingWords, Switch } from '../../../src/doors/rule.js';
import { shareWords } from '../../../src/doors/capacity.js';

export interface Facts {
  readonly switch: Switch;
  /** Room in its table. */
  readonly entries: number;
  /** What an entry stands for; counted by group where the plan does not say. */
  readonly key: Switch['snoopingKey'];
  /** Entries for what receivers joined through it. */
  readonly joined: number;
  /** The same and those for streams that only pass. */
  readonly all: number;
  /** What the switch does with what does not fit. */
  readonly whenFull: Switch['tableFull'];
  /** Share of the table that may be used. */
  readonly percent: number;
}

export type Note =
  | { readonly entries: number }
  | { readonly key: NonNullable<Facts['key']> }
  | { readonly whenFull: NonNullable<Facts['whenFull']> };

export function words(facts: Facts): FindingWords<Note> {
  const { entries, percent } = facts;
  return {
    what: whatWords(facts),
    onAir: onAir(facts),
    fix: `keep to ${Math.floor((entries * percent) / 100)} entries, ${percent} % of ${entries}, so that the rest stays free for clocks and discovery: split the VLANs so that fewer groups are joined through ${facts.switch.name}, join fewer, or use a switch with a larger table`,
    label,
  };
}

function label(name: string, note: Note): string {
  if ('entries' in note) return `${name}: ${note.entries} entries`;
  return 'key' in note ? `${name}: keyed by ${note.key}` : `${name}: when full, ${note.whenFull}`;
}

function whatWords({ switch: { name }, entries, key, joined, all, percent }: Facts): string {
  const passing =
    all > joined ? `, or ${all} if streams that only pass on their way to the querier take an entry too` : '';
  const assumed = key === undefined ? ' (counted by group, as the plan does not say how it keys its table)' : '';
  return `${name} has room for ${entries} ${ENTRIES[key ?? 'group']}, of which ${100 - percent} % are to stay free, and must hold ${joined}${passing}, ${shareWords(all, entries)}${assumed}`;
}

const ENTRIES: Readonly<Record<NonNullable<Facts['key']>, string>> = {
  mac: 'multicast Ethernet addresses',
  'source-group': 'pairs of source and group',
  group: 'groups',
};

function onAir({ all, entries, whenFull }: Facts): string {
  const when = all > entries ? 'when the last devices are switched on' : 'when a few more streams are joined';
  switch (whenFull) {
    case 'flood':
      return `${when}, the switch floods what no longer fits to every port: slow ports are swamped, far from the stream that was one too many`;
    case 'drop':
      return `${when}, the switch drops what no longer fits: the next receiver to join gets nothing, whichever that is, and changes with every restart`;
    case undefined:
      return `${when}, the next streams are flooded to every port or reach nobody, whichever the switch does (\`tableFull\` is not stated)`;
  }
}
