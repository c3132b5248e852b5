/**
 * What a device leaves out, from what its like show: not a free number but the one that follows from the box's others. Each
 * is likely and no more, for the box may be the one that differs.
 */
import { addTo, groupBy } from '../collections/group-by.js';
import { once } from '../collections/once.js';
import type { Model } from '../model/model.js';
import { misnamed, type LeavesOut, type LeftOut, type Misnamed } from '../model/written/index.js';
import type { Device, Interface, Kind, Leg, Switch } from '../plan/types.js';
import type { Container } from '../source/document.js';
import { formatAddress, isIPv4, type Address } from '../values/address.js';
import type { EditList } from './edit-list.js';
import { mayHave } from './readdress.js';

/** So many others of the kind have to show it. */
const LEAST_SHOWN = 2;

export interface FilledIn {
  readonly fact: LeftOut;
  readonly value: string | number;
}

/** How to make good what is left out. */
export interface Completion {
  /** Entries that are there, under a wrong name. */
  readonly renamed: readonly Misnamed[];
  readonly filled: readonly FilledIn[];
}

/** How to make good what devices leave out; undefined where something of it follows from nothing. */
export function createCompletion(model: Model): (found: LeavesOut) => Completion | undefined {
  const valueOf = createValues(model);
  return (found) => complete(found, valueOf);
}

type ValueOf = (fact: LeftOut) => string | number | undefined;

function complete({ device, kind, facts }: LeavesOut, valueOf: ValueOf): Completion | undefined {
  const renamed = new Map<string, Misnamed>();
  const filled: FilledIn[] = [];
  for (const fact of facts) {
    const isLeg = 'leg' in fact;
    const list = isLeg ? 'senders' : 'interfaces';
    const { name } = isLeg ? fact.leg.sender : fact.interface;
    const entry = misnamed(device, kind, list, name);
    if (entry !== undefined) renamed.set(`${list} ${name}`, entry);
  }
  const entries = new Set<Container>();
  for (const one of renamed.values()) entries.add(one.entry);
  if (entries.size < renamed.size) return undefined;
  for (const fact of facts) {
    const isLeg = 'leg' in fact;
    const { name, origin } = isLeg ? fact.leg.sender : fact.interface;
    if (renamed.has(`${isLeg ? 'senders' : 'interfaces'} ${name}`)) continue;
    // What is lacking under one of two equal names stands under the other, once that has its own.
    if ([...renamed.values()].some((one) => one.name === name)) continue;
    if (!isOwn(device, isLeg ? fact.leg.origin.container : origin.container)) return undefined;
    const value = valueOf(fact);
    if (value === undefined) return undefined;
    filled.push({ fact, value });
  }
  return { renamed: [...renamed.values()], filled };
}

export function writeCompletion({ renamed, filled }: Completion, { origin }: Device, edits: EditList): void {
  for (const { entry, meant } of renamed)
    edits.put({ document: origin.document, container: entry, key: 'name' }, meant);
  for (const { fact, value } of filled) edits.set('leg' in fact ? fact.leg : fact.interface, KEYS[fact.what], value);
}

const KEYS: Readonly<Record<LeftOut['what'], string>> = {
  destination: 'group',
  'UDP port': 'port',
  address: 'address',
  'switch port': 'port',
};

function isOwn({ origin: { container } }: Device, entry: Container): boolean {
  const { interfaces = [], senders = [] } = container as RawDevice;
  return [...interfaces, ...senders.flatMap(({ legs = [] }) => legs)].includes(entry);
}

interface RawDevice {
  readonly interfaces?: readonly object[];
  readonly senders?: readonly { readonly legs?: readonly object[] }[];
}

/** What the devices of a kind show is collected once for each pair of names, however many of them leave something out. */
function createValues(model: Model): ValueOf {
  const { plan } = model;
  const byKind = once(() => groupBy(plan.devices, ({ kind }) => kind));
  const ofKind = (kind: Kind | undefined): readonly Device[] => (kind === undefined ? [] : (byKind().get(kind) ?? []));
  const taken = once(
    () =>
      new Set([
        ...plan.interfaces.map(({ port }) => port),
        ...plan.links.flatMap(({ ends }) => ends.map(({ port }) => port)),
      ]),
  );
  const pairs = new Map<string, Shown>();
  const ports = new Map<string, number | undefined>();

  function shownBy(one: Interface, other: Interface): Shown {
    const { kind } = one.device;
    const key = JSON.stringify([kind?.rig.name, kind?.name, one.name, other.name]);
    let shown = pairs.get(key);
    if (shown === undefined) pairs.set(key, (shown = shownIn(ofKind(kind), one.name, other.name)));
    return shown;
  }

  /** The place in its subnet that another interface of the box has in its own, where all of the kind keep the two alike. */
  function addressLike(one: Interface): string | undefined {
    const subnet = one.vlan?.subnet;
    if (subnet === undefined || !isIPv4(subnet.network)) return undefined;
    for (const other of one.device.interfaces) {
      const place = other === one ? undefined : placeInSubnet(other);
      if (place === undefined || !shownBy(one, other).places) continue;
      const address: Address = subnet.network + place;
      if (mayHave(model, one, address)) return `${formatAddress(address)}/${subnet.length}`;
    }
    return undefined;
  }

  /** The port with the number that another interface of the box has, where all of the kind keep the two alike. */
  function portLike(one: Interface): string | undefined {
    for (const other of one.device.interfaces) {
      const { port } = other;
      if (other === one || port === undefined) continue;
      const [owner, ...more] = shownBy(one, other).beside.get(port.switch) ?? [];
      const found = more.length === 0 ? owner?.ports.get(port.name) : undefined;
      if (owner !== undefined && found !== undefined && !taken().has(found)) return `${owner.name}/${found.name}`;
    }
    return undefined;
  }

  /** The UDP port that the same leg of all others has. */
  function usualPort({ sender: { device, name }, index }: Leg): number | undefined {
    const kind = device?.kind;
    const key = JSON.stringify([kind?.rig.name, kind?.name, name, index]);
    if (!ports.has(key)) {
      const all = ofKind(kind).flatMap(
        ({ senders }) => senders.find((one) => one.name === name)?.legs[index]?.port ?? [],
      );
      const [first] = all;
      ports.set(key, all.length >= LEAST_SHOWN && all.every((one) => one === first) ? first : undefined);
    }
    return ports.get(key);
  }

  return (fact) => {
    switch (fact.what) {
      case 'destination': {
        const group = model.proposals.mappedGroup(fact.leg);
        return group === undefined ? undefined : formatAddress(group);
      }
      case 'UDP port':
        return usualPort(fact.leg);
      case 'address':
        return addressLike(fact.interface);
      case 'switch port':
        return portLike(fact.interface);
    }
  };
}

/** What the devices of a kind show of two of their interfaces. */
interface Shown {
  /** All have the same place in both subnets. */
  readonly places: boolean;
  /** Switches of the one beside each switch of the other; empty where not all have the same port of both. */
  readonly beside: ReadonlyMap<Switch, ReadonlySet<Switch>>;
}

function shownIn(devices: readonly Device[], name: string, beside: string): Shown {
  let addressed = 0;
  let placed = 0;
  let patched = 0;
  let alike = 0;
  const switches = new Map<Switch, Set<Switch>>();
  for (const { interfaces } of devices) {
    const one = interfaces.find((its) => its.name === name);
    const other = interfaces.find((its) => its.name === beside);
    if (one === undefined || other === undefined) continue;
    const place = placeInSubnet(one);
    if (one.address !== undefined) addressed++;
    if (place !== undefined && place === placeInSubnet(other)) placed++;
    if (one.port === undefined || other.port === undefined) continue;
    patched++;
    if (one.port.name === other.port.name) alike++;
    addTo(switches, other.port.switch, one.port.switch);
  }
  return {
    places: addressed >= LEAST_SHOWN && placed === addressed,
    beside: patched >= LEAST_SHOWN && alike === patched ? switches : new Map(),
  };
}

function placeInSubnet({ vlan, address }: Interface): number | undefined {
  const network = vlan?.subnet?.network;
  return typeof network === 'number' && typeof address === 'number' ? address - network : undefined;
}
