/** Which entry of the old plan is which of the new one. */
import { append } from '../collections/group-by.js';
import type { Device, Interface, Link, Network, Plan, Rig, Sender, Switch, Vlan } from '../plan/types.js';

/** Entries of one kind, matched. */
export interface Pairs<T> {
  readonly both: readonly (readonly [before: T, after: T])[];
  readonly gone: readonly T[];
  readonly fresh: readonly T[];
}

/** Matches of everything other entries refer to. */
export interface Pairing {
  /** Equal for a rig before and after. */
  readonly rigKey: (rig: Rig) => string;
  readonly networks: Pairs<Network>;
  readonly vlans: Pairs<Vlan>;
  readonly switches: Pairs<Switch>;
  readonly devices: Pairs<Device>;
  readonly links: Pairs<Link>;
  /** Senders of matched devices, and those known from a stream list. */
  readonly senders: Pairs<Sender>;
  /** Equal for one thing before and after, and for nothing else. */
  readonly identity: (thing: object) => number;
}

/** Matches by rig and name; a single rig on each side is the same rig whatever it is called. */
export function pairPlans(before: Plan, after: Plan): Pairing {
  const single = before.rigs.length === 1 && after.rigs.length === 1;
  const rigKey = ({ name }: Rig): string => (single ? '' : name);
  const named = ({ rig, name }: { readonly rig: Rig; readonly name: string }): string => keyOf(rigKey(rig), name);
  const identity = createIdentity();
  const known = <T extends object>(pairs: Pairs<T>): Pairs<T> => {
    for (const [old, now] of pairs.both) identity.join(old, now);
    return pairs;
  };
  const networks = known(pairUp(before.networks, after.networks, named));
  const vlans = known(
    withRenamed(pairUp(before.vlans, after.vlans, named), [
      ({ rig, id }) => (id === undefined ? [] : [keyOf(rigKey(rig), String(id))]),
    ]),
  );
  const switches = known(
    withRenamed(pairUp(before.switches, after.switches, named), [
      ({ rig, addresses }) => marks(rigKey(rig), addresses, ({ mac }) => mac),
      ({ rig, addresses }) => allOf(rigKey(rig), addresses),
    ]),
  );
  const devices = known(
    withRenamed(pairUp(before.devices, after.devices, named), [
      ({ rig, interfaces }) => marks(rigKey(rig), interfaces, ({ mac }) => mac),
      ({ rig, interfaces }) => allOf(rigKey(rig), interfaces),
    ]),
  );
  const links = pairUp(before.links, after.links, (link) => linkKey(link, rigKey));
  for (const [old, now] of links.both)
    if (old.transit !== undefined && now.transit !== undefined) identity.join(old.transit, now.transit);
  const senders: Pairs<Sender>[] = devices.both.map(([old, now]) =>
    pairUp(old.senders, now.senders, ({ name }) => name),
  );
  const listed = ({ senders: all }: Plan): readonly Sender[] => all.filter(({ device }) => device === undefined);
  senders.push(pairUp(listed(before), listed(after), named));
  return {
    rigKey,
    networks,
    vlans,
    switches,
    devices,
    links,
    senders: known(together(senders)),
    identity: identity.of,
  };
}

/** Equal keys are matched in the order they come in. */
export function pairUp<T>(before: readonly T[], after: readonly T[], key: (thing: T) => string): Pairs<T> {
  const waiting = new Map<string, T[]>();
  for (const thing of [...before].reverse()) {
    append(waiting, key(thing), thing);
  }
  const both: [T, T][] = [];
  const fresh: T[] = [];
  for (const thing of after) {
    const old = waiting.get(key(thing))?.pop();
    if (old === undefined) fresh.push(thing);
    else both.push([old, thing]);
  }
  const left = new Set([...waiting.values()].flat());
  return { both, gone: before.filter((thing) => left.has(thing)), fresh };
}

/** Parts of a key that can't run into each other. */
export function keyOf(...parts: readonly string[]): string {
  return JSON.stringify(parts);
}

/** Of what is gone and what is new, the first that share a mark are one thing under another name. */
function withRenamed<T>(pairs: Pairs<T>, kinds: readonly ((thing: T) => readonly string[])[]): Pairs<T> {
  let { both, gone, fresh } = pairs;
  for (const marksOf of kinds) {
    if (gone.length === 0 || fresh.length === 0) break;
    const marked = new Map<string, T>();
    for (const thing of fresh) for (const mark of marksOf(thing)) if (!marked.has(mark)) marked.set(mark, thing);
    const taken = new Set<T>();
    const renamed: [T, T][] = [];
    for (const thing of gone) {
      const now = marksOf(thing)
        .map((mark) => marked.get(mark))
        .find((one) => one !== undefined && !taken.has(one));
      if (now === undefined) continue;
      taken.add(now);
      taken.add(thing);
      renamed.push([thing, now]);
    }
    both = [...both, ...renamed];
    gone = gone.filter((thing) => !taken.has(thing));
    fresh = fresh.filter((thing) => !taken.has(thing));
  }
  return { both, gone, fresh };
}

function marks<T>(rig: string, parts: readonly T[], mark: (part: T) => number | undefined): readonly string[] {
  return parts.flatMap((part) => {
    const value = mark(part);
    return value === undefined || value === 0 ? [] : [keyOf(rig, String(value))];
  });
}

function allOf(rig: string, holders: readonly Pick<Interface, 'address'>[]): readonly string[] {
  const held = holders.flatMap(({ address }) => (address === undefined ? [] : [String(address)])).sort();
  return held.length === 0 ? [] : [keyOf(rig, ...held)];
}

function linkKey({ rig, name, ends }: Link, rigKey: (rig: Rig) => string): string {
  const text = name === undefined ? ends.map((end) => end.text).sort() : [name];
  return keyOf(rigKey(rig), ...text);
}

function together<T>(parts: readonly Pairs<T>[]): Pairs<T> {
  const both: (readonly [T, T])[] = [];
  const gone: T[] = [];
  const fresh: T[] = [];
  for (const part of parts) {
    for (const pair of part.both) both.push(pair);
    for (const thing of part.gone) gone.push(thing);
    for (const thing of part.fresh) fresh.push(thing);
  }
  return { both, gone, fresh };
}

function createIdentity(): { readonly join: (a: object, b: object) => void; readonly of: (thing: object) => number } {
  const numbers = new Map<object, number>();
  let next = 0;
  const of = (thing: object): number => {
    let number = numbers.get(thing);
    if (number === undefined) numbers.set(thing, (number = next++));
    return number;
  };
  return { of, join: (a, b) => numbers.set(b, of(a)) };
}
