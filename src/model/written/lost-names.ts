/** Names that lead nowhere: what was wanted, who wants it, and what may have been meant. */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Device, Entity, Kind, Plan, Referrer, Unresolved } from '../../plan/types.js';

/** Kinds of things that names are given for. */
export type WantedThing =
  | 'VLAN'
  | 'network'
  | 'switch'
  | 'port'
  | 'device'
  | 'device kind'
  | 'switch or device'
  | 'interface'
  | 'sender'
  | 'stream'
  | 'format';

export interface Wanted {
  readonly thing: WantedThing;
  /** Name of the device that should have the interface or sender, of the switch that should have the port. */
  readonly owner: string | undefined;
}

/** The plan keeps what is wanted as one text, `port of switch red-start`; it is taken apart here and nowhere else. */
export function wantedOf({ wanted }: Pick<Unresolved, 'wanted'>): Wanted {
  const [, of] = /^port of switch (.*)$/s.exec(wanted) ?? [];
  if (of !== undefined) return { thing: 'port', owner: of };
  const [, part = wanted, owner] = /^(interface|sender) of (.*)$/s.exec(wanted) ?? [];
  return { thing: part as WantedThing, owner };
}

/** A name that leads nowhere, however many use it. */
export interface LostName extends Wanted {
  readonly text: string;
  /** In plan order. */
  readonly uses: NonEmpty<Unresolved>;
  /** Names equally close to what is written, a few at most; of streams, those that no receiver takes yet before all others. */
  readonly meant: readonly string[];
}

export function lostNames(plan: Plan): readonly LostName[] {
  return [...groupBy(plan.unresolved, ({ wanted, text }) => `${wanted}\n${text}`).values()].map((uses) => {
    const [first] = uses;
    const wanted = wantedOf(first);
    return { ...wanted, text: first.text, uses, meant: likelyMeant(plan, wanted, first.text, uses) };
  });
}

const MOST_NAMES = 3;

function likelyMeant(plan: Plan, wanted: Wanted, text: string, uses: readonly Unresolved[]): readonly string[] {
  const close = new Set(uses.flatMap(({ suggestions }) => suggestions));
  const likely = [...close].filter((name) => wanted.thing !== 'port' || !differOnlyByNumber(name, text));
  const names = byLabel(likely, (name) => name);
  if (names.length < 2 || (wanted.thing !== 'sender' && wanted.thing !== 'stream')) return names.slice(0, MOST_NAMES);
  const taken = new Set(
    plan.receivers.flatMap(({ takes }) =>
      takes !== undefined && (takes.device === undefined || takes.device.name === wanted.owner) ? [takes.name] : [],
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
