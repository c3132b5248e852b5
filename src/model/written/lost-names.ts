/** Names that lead nowhere: what was wanted, who wants it, and what may have been meant. */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Device, Entity, Kind, Plan, Referrer, Unresolved, Wanted } from '../../plan/types.js';

/** A name that leads nowhere, however many use it. */
export interface LostName {
  readonly wanted: Wanted;
  readonly text: string;
  /** In plan order. */
  readonly uses: NonEmpty<Unresolved>;
  /** Names equally close to what is written, a few at most; of streams, those that no receiver takes yet before all others. */
  readonly meant: readonly string[];
}

export function lostNames(plan: Plan): readonly LostName[] {
  const byName = groupBy(plan.unresolved, ({ wanted: { kind, of }, text }) => [kind, of?.name ?? '', text].join('\n'));
  return [...byName.values()].map((uses) => {
    const [{ wanted, text }] = uses;
    return { wanted, text, uses, meant: likelyMeant(plan, wanted, text, uses) };
  });
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
