/** Names of one kind of thing that people take for one another. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Device, Kind, Named, Network, Plan, Sender, Switch, Vlan } from '../../plan/types.js';
import { kindOf } from './kind-entries.js';
import { alikeSuspects, lookOf, spellingOf } from './look-alike.js';

/** How names differ that are taken for one another; `looks`: they are drawn alike. */
export type NameDifference = 'case' | 'spelling' | 'looks';

export type AlikeThing =
  | { readonly what: 'device'; readonly entity: Device }
  | { readonly what: 'switch'; readonly entity: Switch }
  | { readonly what: 'VLAN'; readonly entity: Vlan }
  | { readonly what: 'network'; readonly entity: Network }
  | { readonly what: 'sender'; readonly entity: Sender; readonly device: Device };

export interface AlikeNames {
  /** The rig, where there are several, or the device they belong to. */
  readonly within: string | undefined;
  /** The kind that writes all of them, for each of its devices. */
  readonly kind: Kind | undefined;
  /** One of each name, by name. */
  readonly things: NonEmpty<AlikeThing>;
  readonly difference: NameDifference;
  /** Signs outside ASCII that some names have and others have not, by code: they can't be told on a screen. */
  readonly oddSigns: readonly string[];
}

interface Scope extends Pick<AlikeNames, 'within' | 'kind'> {
  /** Only those that may be alike: for all the names of a large plan the comparison would cost too much. */
  readonly suspects: readonly AlikeThing[];
}

export function alikeNames(plan: Plan): readonly AlikeNames[] {
  return [...scopes(plan)].flatMap(({ suspects, ...scope }) => {
    const byName = groupBy(suspects, ({ entity }) => entity.name);
    return alike([...byName.keys()]).flatMap((names): readonly AlikeNames[] => {
      const things = byLabel(names, (name) => name).flatMap((name) => byName.get(name)?.slice(0, 1) ?? []);
      const oddSigns = oddSignsOf(names);
      return isNonEmpty(things) ? [{ ...scope, things, oddSigns, difference: differenceOf(names, oddSigns) }] : [];
    });
  });
}

function differenceOf(names: readonly string[], oddSigns: readonly string[]): NameDifference {
  const haveOne = (keyOf: (name: string) => string): boolean => new Set(names.map(keyOf)).size === 1;
  if (oddSigns.length > 0 || !haveOne(spellingOf)) return 'looks';
  return haveOne((name) => name.toLowerCase()) ? 'case' : 'spelling';
}

/** Sets of names that share their look or their spelling, each set once. */
function alike(names: readonly string[]): readonly NonEmpty<string>[] {
  const found: NonEmpty<string>[] = [];
  const together = new Map<string, ReadonlySet<string>>();
  for (const keyOf of [spellingOf, lookOf]) {
    for (const group of groupBy(names, keyOf).values()) {
      const known = together.get(group[0]);
      if (group.length < 2 || (known !== undefined && group.every((name) => known.has(name)))) continue;
      const set = new Set(group);
      for (const name of group) together.set(name, set);
      found.push(group);
    }
  }
  return found;
}

function* scopes(plan: Plan): Iterable<Scope> {
  const several = plan.rigs.length > 1;
  yield scopeOf(undefined, [...plan.devices, ...plan.switches], (entity) =>
    'ports' in entity ? { what: 'switch', entity } : { what: 'device', entity },
  );
  for (const rig of plan.rigs) {
    const within = several ? rig.name : undefined;
    const own = <T extends Vlan | Network>(all: readonly T[]): readonly T[] => all.filter((one) => one.rig === rig);
    yield scopeOf(within, own(plan.vlans), (entity) => ({ what: 'VLAN', entity }));
    yield scopeOf(within, own(plan.networks), (entity) => ({ what: 'network', entity }));
  }
  yield* sendersOfDevices(plan);
}

function scopeOf<T extends Named>(
  within: string | undefined,
  all: readonly T[],
  thingOf: (one: T) => AlikeThing,
): Scope {
  return { within, kind: undefined, suspects: alikeSuspects(all).map(thingOf) };
}

function* sendersOfDevices({ devices }: Plan): Iterable<Scope> {
  const told = new Set<Kind>();
  let sound: readonly Named[] = [];
  for (const device of devices) {
    // Devices of one make follow one another, with the same senders.
    if (device.senders.length < 2 || haveSameNames(device.senders, sound)) continue;
    const suspects = alikeSuspects(device.senders);
    if (suspects.length === 0) {
      sound = device.senders;
      continue;
    }
    // Senders that come from the kind are the same in every device of it.
    const kind = kindOf(device, device.senders);
    if (kind !== undefined && told.has(kind)) continue;
    if (kind !== undefined) told.add(kind);
    yield { within: device.name, kind, suspects: suspects.map((entity) => ({ what: 'sender', entity, device })) };
  }
}

function haveSameNames(a: readonly Named[], b: readonly Named[]): boolean {
  return a.length === b.length && a.every(({ name }, index) => name === b[index]?.name);
}

function oddSignsOf(names: readonly string[]): readonly string[] {
  const signs = new Set(
    names
      .flatMap((name) => Array.from(name))
      .filter((sign) => (sign.codePointAt(0) ?? 0) > 0x7e && !names.every((name) => name.includes(sign))),
  );
  return [...signs].map((sign) => `U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`).sort();
}
