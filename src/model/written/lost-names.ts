/** Names that lead nowhere: what was wanted, who wants it, and what may have been meant. */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Device, Entity, Kind, Plan, Referrer, Unresolved, Wanted } from '../../plan/types.js';

/** A name that leads nowhere, however many use it; or so many of one sort that it is not the names that are wrong. */
export interface LostName {
  readonly wanted: Wanted;
  /** As written: one, or more than `MOST_SLIPS`. */
  readonly names: NonEmpty<string>;
  readonly uses: NonEmpty<Unresolved>;
  /** Names equally close to what is written, a few at most; of streams, those that no receiver takes yet before all others. */
  readonly meant: readonly string[];
}

/**
 * So many names of one sort that lead nowhere, and are near no name that does, are no slips: a list is missing. Common
 * practice, no source.
 */
export const MOST_SLIPS = 20;

export function lostNames(plan: Plan): readonly LostName[] {
  const single = [...groupBy(plan.unresolved, (one) => `${sortOf(one)}\n${one.text}`).values()].map(
    (uses): LostName => {
      const [{ wanted, text }] = uses;
      return { wanted, names: [text], uses, meant: likelyMeant(plan, wanted, text, uses) };
    },
  );
  const near = single.filter(({ meant }) => meant.length > 0);
  const far = groupBy(
    single.filter(({ meant }) => meant.length === 0),
    ({ uses: [first] }) => sortOf(first),
  );
  return [
    ...near,
    ...[...far.values()].flatMap((all) =>
      all.length > MOST_SLIPS ? joined(byLabel(all, ({ names: [name] }) => name)) : all,
    ),
  ];
}

/** Names of one sort: of one kind, and of one switch or device where they are parts of it. */
function sortOf({ wanted: { kind, of } }: Pick<Unresolved, 'wanted'>): string {
  return `${kind}\n${of?.name ?? ''}`;
}

function joined([first, ...others]: readonly LostName[]): readonly LostName[] {
  if (first === undefined) return [];
  const [use, ...uses] = first.uses;
  return [
    {
      wanted: first.wanted,
      names: [first.names[0], ...others.flatMap(({ names }) => names)],
      uses: [use, ...uses, ...others.flatMap((one) => one.uses)],
      meant: [],
    },
  ];
}

const MOST_NAMES = 3;

function likelyMeant(plan: Plan, { kind, of }: Wanted, text: string, uses: readonly Unresolved[]): readonly string[] {
  const close = new Set(uses.flatMap(({ suggestions }) => suggestions));
  const likely = [...close].filter((name) => kind !== 'port' || !differOnlyByNumber(name, text));
  const names = byLabel(likely, (name) => name);
  if (names.length < 2 || (kind !== 'sender' && kind !== 'stream')) return names.slice(0, MOST_NAMES);
  const taken = new Set(
    plan.receivers.flatMap(({ takes }) =>
      takes !== undefined && (takes.device === undefined || takes.device === of) ? [takes.name] : [],
    ),
  );
  const left = names.filter((name) => !taken.has(name));
  return (left.length > 0 ? left : names).slice(0, MOST_NAMES);
}

/** Of numbered ports the nearest number is no better a guess than any other. */
function differOnlyByNumber(a: string, b: string): boolean {
  return a.replace(/\d+/g, '#') === b.replace(/\d+/g, '#');
}

/** The device that refers to a name, or whose receiver or stream does. */
export function deviceOfReferrer({ kind, entity }: Referrer): Device | undefined {
  if (kind === 'device') return entity;
  return kind === 'receiver' || kind === 'stream' ? entity.device : undefined;
}

/** The device kind that writes an entry with such a reference, for all its devices. */
export function kindOfReference({ by, origin }: Pick<Unresolved, 'by' | 'origin'>): Kind | undefined {
  const kind = deviceOfReferrer(by)?.kind;
  return kind !== undefined && origin.base === undefined && writes(kind, origin.container) ? kind : undefined;
}

function writes({ origin }: Entity, entry: object): boolean {
  const { interfaces = [], senders = [], receivers = [] } = origin.container as RawKind;
  const flows = [...senders, ...receivers];
  return [...interfaces, ...flows, ...flows.flatMap(({ legs = [] }) => legs)].includes(entry);
}

interface RawKind {
  readonly interfaces?: readonly object[];
  readonly senders?: readonly { readonly legs?: readonly object[] }[];
  readonly receivers?: readonly { readonly legs?: readonly object[] }[];
}
