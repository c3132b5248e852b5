/** Entries of devices that fit nothing in their kind, though they look like one that the device leaves out. */
import { allNearest } from '../../collections/nearest.js';
import type { Device, Kind, Named, Plan } from '../../plan/types.js';
import { lookOf, spellingOf } from './look-alike.js';

export type EntryList = 'interfaces' | 'senders' | 'receivers';

export interface NotInKind {
  readonly device: Device;
  readonly kind: Kind;
  readonly list: EntryList;
  readonly entry: Named;
  /** Names in the kind that nothing of the device stands for, nearly written like the entry's; nearest alike. */
  readonly meant: readonly [string, ...string[]];
  /** A receiver takes what was left out: it is the one that should have had the entry's numbers. */
  readonly taken: boolean;
}

type Odd = Omit<NotInKind, 'taken'>;

const NONE: readonly never[] = [];
const LISTS = ['interfaces', 'senders', 'receivers'] as const;

/** In plan order. */
export function entriesNotInKind({ devices, receivers }: Plan): readonly NotInKind[] {
  const namesOf = new Map<Kind, Readonly<Record<EntryList, readonly string[]>>>();
  return devices.flatMap((device): readonly NotInKind[] => {
    const { kind } = device;
    if (kind === undefined) return [];
    let names = namesOf.get(kind);
    if (names === undefined) namesOf.set(kind, (names = namesIn(kind)));
    const own = names;
    if (LISTS.every((list) => fits(device, list, own[list]))) return NONE;
    return LISTS.flatMap((list) => oddEntries(device, kind, list, names[list])).map((odd) => ({
      ...odd,
      taken:
        odd.list === 'senders' &&
        receivers.some(({ takes }) => takes?.device === device && odd.meant.includes(takes.name)),
    }));
  });
}

function namesIn({ origin }: Kind): Readonly<Record<EntryList, readonly string[]>> {
  const raw = origin.container as { readonly [list in EntryList]?: readonly { readonly name: string }[] };
  const names = (list: EntryList): readonly string[] => (raw[list] ?? []).map(({ name }) => name);
  return { interfaces: names('interfaces'), senders: names('senders'), receivers: names('receivers') };
}

function oddEntries(device: Device, kind: Kind, list: EntryList, names: readonly string[]): readonly Odd[] {
  const entries: readonly Named[] = device[list];
  if (fits(device, list, names)) return [];
  const left = names.filter((name) => entries.some((one) => one.name === name && isWholeOf(one, kind)));
  return entries.flatMap((entry): readonly Odd[] => {
    if (names.includes(entry.name)) return [];
    const [first, ...rest] = allNearest(entry.name, left).filter(
      (name) => !isSeries(name, entry.name) && !(list === 'senders' && looksAlike(name, entry.name)),
    );
    return first === undefined ? [] : [{ device, kind, list, entry, meant: [first, ...rest] }];
  });
}

/** What the kind has and the device leaves out is taken whole: only where there is more than the kind has, is it looked at. */
function fits(device: Device, list: EntryList, names: readonly string[]): boolean {
  return names.length === 0 || device[list].length === names.length;
}

/** Written by the kind alone: the device says nothing of it. */
function isWholeOf({ origin }: Named, { origin: { container } }: Kind): boolean {
  const raw = container as { readonly [list in EntryList]?: readonly object[] };
  return LISTS.some((list) => raw[list]?.includes(origin.container) === true);
}

/** `video` and `video-2`, `in-1` and `in-2`: one more of a kind of thing is meant to be one more. */
function isSeries(a: string, b: string): boolean {
  return withoutNumbers(a) === withoutNumbers(b);
}

function withoutNumbers(name: string): string {
  return name.toLowerCase().replace(/[\d\s_.-]+/g, '');
}

/** Senders of one device that look alike are found as such: `plan/look-alike-names`. */
function looksAlike(a: string, b: string): boolean {
  return spellingOf(a) === spellingOf(b) || lookOf(a) === lookOf(b);
}
