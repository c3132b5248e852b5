/**
 * Streams whose groups lie outside what the conventions promise, by their cause: one VLAN put into the wrong network, or one
 * leg of a device kind on the wrong interface, sends many streams astray at once.
 */
import { placeOf } from '../../plan/place.js';
import type { ConventionGroups, Interface, Kind, Leg, Network, Plan, Sender, Vlan } from '../../plan/types.js';
import { groupFitness } from './group-fitness.js';
import { essenceByGroup, homeNetworks, interfaceTowards, keepsPromise } from './convention-groups.js';
import { imageOf } from './leg-map.js';
import { kindThatWrites, type NamedFormat, unusedFormats } from '../written/index.js';
import { append } from '../../collections/group-by.js';
import type { Address } from '../../values/address.js';
import { byCodeUnit } from '../../collections/order.js';

/** All judged streams of a VLAN stray from the ranges its network has: the VLAN is in the wrong network. */
export interface StrayVlan {
  readonly vlan: Vlan;
  readonly network: Network;
  readonly legs: readonly Leg[];
}

/** What a kind writes for all its devices: the VLAN of an interface, the interface of a leg, a group, or the format of a stream. */
export interface StrayFact {
  readonly key: 'vlan' | 'interface' | 'group' | 'format';
  /** One leg that inherits it, the same whatever the order of the plan. */
  readonly leg: Leg;
  /** Of a format: the one that is meant, where the plan has one of the groups' kind of stream that nothing uses, and no second. */
  readonly meant?: NamedFormat | undefined;
}

export interface StrayKind {
  readonly kind: Kind;
  readonly facts: readonly StrayFact[];
  readonly legs: readonly Leg[];
}

export interface Strays {
  readonly vlans: readonly StrayVlan[];
  readonly kinds: readonly StrayKind[];
  /** Legs astray by themselves, in plan order. */
  readonly alone: readonly Leg[];
  /** The same, to ask by leg. */
  readonly isAlone: (leg: Leg) => boolean;
  /** Whether a leg is astray, for whatever cause. */
  readonly has: (leg: Leg) => boolean;
  /** Whether its group is what is wrong about a leg, rather than where it is sent. */
  readonly byGroup: (leg: Leg) => boolean;
  /** The interface a leg is meant to leave by, where the one it leaves by is the slip: what follows from that is no further one. */
  readonly meant: (leg: Leg) => Interface | undefined;
  /** Whether the format a kind writes for a stream is the slip: the groups are of another kind of stream. */
  readonly misformed: (sender: Sender) => boolean;
}

type HeldTo = (leg: Leg) => readonly ConventionGroups[];

/** Fewer streams than this say nothing about their VLAN. */
const FEWEST_OF_VLAN = 3;
/** Of one device, its kind and its own entry say the same. */
const FEWEST_OF_KIND = 2;

/** What has a finding of its own, and breaks promises for that alone. */
interface Slips {
  /** Interfaces that are written in the wrong VLAN, whose streams are where they belong but for its name. */
  readonly interface: (one: Interface) => boolean;
  /** Senders of a wrong format, which are held to the promises of another kind of stream. */
  readonly sender: (one: Sender) => boolean;
}

export function buildStrays(plan: Plan, heldTo: HeldTo, slips: Slips): Strays {
  const strayed = plan.legs.filter((leg) => strays(leg, heldTo));
  if (strayed.length === 0) return NONE;
  const isAstray = slips.interface;
  const all = strayed.filter(
    ({ interface: via, sender }) => (via === undefined || !isAstray(via)) && !slips.sender(sender),
  );
  if (all.length === 0) return NONE;
  const vlans = strayVlans(plan, all, heldTo, isAstray);
  const byVlan = new Set(vlans.flatMap(({ legs }) => legs));
  const left = byVlan.size === 0 ? all : all.filter((leg) => !byVlan.has(leg));
  const kinds = strayKinds(plan, left, heldTo);
  const byKind = new Set(kinds.flatMap(({ legs }) => legs));
  const alone = byKind.size === 0 ? left : left.filter((leg) => !byKind.has(leg));
  const single = new Set(alone);
  const every = new Set(all);
  const meant = meantInterfaces(kinds, alone);
  const formats = new Set(kinds.flatMap(({ facts }) => facts.flatMap(formatLine)));
  const byPlace = new Set([
    ...byVlan,
    ...meant.keys(),
    ...kinds.flatMap(({ facts, legs }) => (facts.some(({ key }) => key === 'group') ? [] : legs)),
  ]);
  return {
    vlans,
    kinds,
    alone,
    isAlone: (leg) => single.has(leg),
    has: (leg) => every.has(leg),
    byGroup: (leg) => every.has(leg) && !byPlace.has(leg),
    meant: (leg) => meant.get(leg),
    misformed: (sender) => formats.size > 0 && formats.has(placeOf(sender, 'format').container),
  };
}

const NONE: Strays = {
  vlans: [],
  kinds: [],
  alone: [],
  isAlone: () => false,
  has: () => false,
  byGroup: () => false,
  meant: () => undefined,
  misformed: () => false,
};

function formatLine({ key, leg: { sender } }: StrayFact): readonly object[] {
  return key === 'format' ? [placeOf(sender, 'format').container] : [];
}

/** Legs whose group is at home where another interface of their device stands. */
function meantInterfaces(kinds: readonly StrayKind[], alone: readonly Leg[]): ReadonlyMap<Leg, Interface> {
  const inKinds = kinds.flatMap(({ facts, legs }) => {
    const lines = new Set(facts.flatMap(({ key, leg }) => (key === 'interface' ? [placeOf(leg, key).container] : [])));
    return lines.size === 0 ? [] : legs.filter((leg) => lines.has(placeOf(leg, 'interface').container));
  });
  const found = new Map<Leg, Interface>();
  for (const leg of [...inKinds, ...alone.filter(isCrowded)]) {
    const meant = unusedTowards(leg);
    if (meant !== undefined) found.set(leg, meant);
  }
  return found;
}

/** An interface that no leg of the stream leaves by, on the network that its group is promised to. */
function unusedTowards(leg: Leg): Interface | undefined {
  const { sender, network } = leg;
  // Mostly the device has no other network with promises.
  const promised = sender.rig.conventions.groups;
  const others = sender.device?.interfaces.some(
    (one) =>
      one.network !== undefined && one.network !== network && promised.some((its) => its.network === one.network),
  );
  if (others !== true) return undefined;
  const towards = interfaceTowards(leg, homeNetworks([leg]));
  return sender.legs.some((one) => one.interface === towards) ? undefined : towards;
}

/** A leg for which nothing is promised where it is sent, or that leaves on the network of another leg of its stream. */
function isCrowded(leg: Leg): boolean {
  const { sender, network } = leg;
  return (
    sender.legs.some((one) => one !== leg && one.network === network) ||
    sender.rig.conventions.groups.every((promise) => promise.network !== network)
  );
}

/** Misplaced groups, and second legs that break the leg map and nothing else, have a finding of their own. */
function strays(leg: Leg, heldTo: HeldTo): boolean {
  const { group } = leg;
  const { conventions, practice } = leg.sender.rig;
  if (group === undefined || conventions.groups.length === 0) return false;
  const promises = heldTo(leg);
  if (promises.length === 0 ? unusedTowards(leg) === undefined : keepsAll(group, promises)) return false;
  return groupFitness(group, conventions, practice) === 'usable' && !breaksLegMap(leg, heldTo);
}

/** Asked of every leg: a plain loop makes nothing for each. */
function keepsAll(group: Address, promises: readonly ConventionGroups[]): boolean {
  for (const promise of promises) if (!keepsPromise(group, promise)) return false;
  return true;
}

/** `groups/leg-map` names the very group such a leg ought to have, and that one is in its ranges. */
function breaksLegMap(leg: Leg, heldTo: HeldTo): boolean {
  const first = leg.sender.legs[0];
  if (leg.index !== 1 || first?.group === undefined) return false;
  const image = imageOf(first.group, leg.sender.rig.conventions.groupMap);
  if (image === undefined || image === leg.group) return false;
  return keepsAll(image, heldTo(leg)) && !strays(first, heldTo);
}

function strayVlans(
  plan: Plan,
  all: readonly Leg[],
  heldTo: HeldTo,
  isAstray: (one: Interface) => boolean,
): readonly StrayVlan[] {
  const found = new Map<Vlan, Leg[]>();
  for (const leg of all) {
    if (leg.vlan === undefined || breaksNetworkPromise(leg, heldTo) !== true) continue;
    append(found, leg.vlan, leg);
  }
  for (const [vlan, legs] of found) if (legs.length < FEWEST_OF_VLAN) found.delete(vlan);
  if (found.size === 0) return [];
  for (const leg of plan.legs) {
    if (leg.vlan === undefined || !found.has(leg.vlan)) continue;
    if (leg.interface !== undefined && isAstray(leg.interface)) continue;
    if (breaksNetworkPromise(leg, heldTo) === false) found.delete(leg.vlan);
  }
  return [...found].flatMap(([vlan, legs]) =>
    vlan.network === undefined ? [] : [{ vlan, network: vlan.network, legs }],
  );
}

/** Undefined where no promise for the leg's network tells. */
function breaksNetworkPromise(leg: Leg, heldTo: HeldTo): boolean | undefined {
  const { group } = leg;
  const { conventions, practice } = leg.sender.rig;
  if (group === undefined || groupFitness(group, conventions, practice) !== 'usable') return undefined;
  const promises = heldTo(leg).filter((promise) => promise.network !== undefined);
  return promises.length === 0 ? undefined : promises.some((promise) => !keepsPromise(group, promise));
}

interface Tally {
  readonly kind: Kind;
  readonly fact: StrayFact;
  readonly legs: Leg[];
  judged: number;
}

function strayKinds(plan: Plan, left: readonly Leg[], heldTo: HeldTo): readonly StrayKind[] {
  const strayed = new Set(left);
  const tallies = new Map<object, Tally>();
  for (const leg of left) {
    for (const { kind, fact, at } of inheritedFacts(leg)) {
      const tally = tallies.get(at);
      if (tally === undefined) tallies.set(at, { kind, fact, legs: [leg], judged: 0 });
      else tally.legs.push(leg);
    }
  }
  if (tallies.size === 0) return [];
  for (const leg of plan.legs) {
    if (leg.sender.device?.kind === undefined || leg.group === undefined) continue;
    if (heldTo(leg).length === 0 && !strayed.has(leg)) continue;
    for (const { at } of inheritedFacts(leg)) {
      const tally = tallies.get(at);
      if (tally !== undefined) tally.judged++;
    }
  }
  const byKind = new Map<Kind, { readonly facts: StrayFact[]; readonly legs: Set<Leg> }>();
  // A wider fact that explains all comes before the narrower ones it holds.
  const wholly = [...tallies.values()].filter(({ legs, judged }) => {
    return legs.length === judged && new Set(legs.map(({ sender }) => sender.device)).size >= FEWEST_OF_KIND;
  });
  for (const { kind, fact, legs } of wholly.sort(
    (a, b) => b.legs.length - a.legs.length || RANK[a.fact.key] - RANK[b.fact.key],
  )) {
    const own = byKind.get(kind) ?? { facts: [], legs: new Set<Leg>() };
    byKind.set(kind, own);
    if (legs.every((leg) => own.legs.has(leg))) continue;
    const leg = legs.reduce(earlierByName);
    own.facts.push(fact.key === 'format' ? { ...fact, leg, meant: meantFormat(plan, leg) } : { ...fact, leg });
    for (const leg of legs) own.legs.add(leg);
  }
  return [...byKind].map(([kind, { facts, legs }]) => ({ kind, facts, legs: [...legs] }));
}

function meantFormat(plan: Plan, leg: Leg): NamedFormat | undefined {
  const essence = essenceByGroup(leg);
  const [meant, ...others] = unusedFormats(plan).filter((format) => format.essence === essence);
  return others.length > 0 ? undefined : meant;
}

function earlierByName(one: Leg, other: Leg): Leg {
  const order = byCodeUnit(one.sender.label, other.sender.label) || one.index - other.index;
  return order <= 0 ? one : other;
}

/** Of facts that explain the same legs, the one closest to them. */
const RANK: Readonly<Record<StrayFact['key'], number>> = { format: 0, group: 1, interface: 2, vlan: 3 };

/** What decides where a leg belongs and is taken from its device's kind, with the entry it is written in. */
function inheritedFacts(leg: Leg): readonly { readonly kind: Kind; readonly fact: StrayFact; readonly at: object }[] {
  const { device } = leg.sender;
  const kind = device?.kind;
  if (device === undefined || kind === undefined) return [];
  const facts: { kind: Kind; fact: StrayFact; at: object }[] = [];
  for (const key of ['group', 'interface'] as const) {
    if (key === 'group' || leg.interface !== undefined) {
      if (kindThatWrites(leg, device, key) !== undefined)
        facts.push({ kind, fact: { key, leg }, at: placeOf(leg, key).container });
    }
  }
  if (kindThatWrites(leg.sender, device, 'format') !== undefined && essenceByGroup(leg) !== undefined)
    facts.push({ kind, fact: { key: 'format', leg }, at: placeOf(leg.sender, 'format').container });
  const via = leg.interface;
  const written = (kind.origin.container as { readonly interfaces?: readonly object[] }).interfaces;
  if (via !== undefined && written?.includes(placeOf(via, 'vlan').container) === true) {
    facts.push({ kind, fact: { key: 'vlan', leg }, at: placeOf(via, 'vlan').container });
  }
  return facts;
}
