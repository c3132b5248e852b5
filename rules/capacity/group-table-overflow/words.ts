import { listNames, type FindingWords, type Switch } from '../../../src/doors/rule.js';
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
  /** What inputs choose of `joined`, else of `all`, in the worst case; undefined where they choose nothing. */
  readonly chosen:
    | {
        readonly entries: number;
        /** The same where inputs that do not say so leave the last stream first. */
        readonly leftFirst: number;
        readonly streams: readonly string[];
        readonly exact: boolean;
        /** What the table then holds; undefined where that helps too little. */
        readonly relieved: number | undefined;
      }
    | undefined;
}

export type Note =
  | { readonly entries: number }
  | { readonly key: NonNullable<Facts['key']> }
  | { readonly whenFull: NonNullable<Facts['whenFull']> };

export function words(facts: Facts): FindingWords<Note> {
  const { entries, percent } = facts;
  return {
    what: `${whatWords(facts)}${choiceWords(facts)}`,
    onAir: onAir(facts),
    fix: `keep to ${Math.floor((entries * percent) / 100)} entries, ${percent} % of ${entries}, so that the rest stays free for clocks and discovery: split the VLANs so that fewer groups are joined through ${facts.switch.name}, join fewer, or use a switch with a larger table${leavingWords(facts)}`,
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
  return `${name} has room for ${entries} ${ENTRIES[key ?? 'group']}, of which ${100 - percent} % are to be kept free, and must hold ${joined}${passing}, ${shareWords(all, entries)}${assumed}`;
}

function choiceWords({ chosen }: Facts): string {
  if (chosen === undefined) return '';
  const { entries, leftFirst, streams, exact } = chosen;
  const of = streams.length === 0 ? '' : `, for one of ${listNames(streams, 4)}`;
  const unsaid =
    leftFirst < entries
      ? `; ${leftFirst} if inputs leave the last stream before they join the next, which the plan does not say`
      : '';
  return `; ${exact ? '' : 'at most '}${entries} of it by choice${of}${exact ? '' : ' (a bound: not every choice was tried)'}${unsaid}`;
}

function leavingWords({ chosen }: Facts): string {
  if (chosen?.relieved === undefined) return '';
  return `; or state \`joinsFirst: false\` where inputs leave the last stream before they join the next: ${chosen.relieved} entries are left then`;
}

const ENTRIES: Readonly<Record<NonNullable<Facts['key']>, string>> = {
  mac: 'multicast MACs',
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
