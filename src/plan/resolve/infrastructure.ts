/** Networks, VLANs and switches. */
import type { Document } from '../../source/document.js';
import type { RawSwitch, RawSwitchPort } from '../../read/raw-plan.js';
import { parseRate } from '../../values/quantity.js';
import type { Network, Origin, Port, Referrer, Rig, Switch, SwitchAddress, SwitchPair, Vlan } from '../types.js';
import { listOrigin, originOf, Scope, type Draft, type ResolveContext } from './context.js';
import { MOST_PORTS, portNames } from '../port-names.js';
import { partsOfSwitch, resolvePtp } from './ptp.js';
import { resolveTree } from './spanning-tree.js';
import { createPairs } from './pairs.js';
import { rawPlan, type Rigs } from './rigs.js';
import { resolveVlan } from './vlans.js';

export interface Infrastructure {
  readonly networks: readonly Network[];
  readonly vlans: readonly Vlan[];
  readonly switches: readonly Switch[];
  readonly networkScope: Scope<Network>;
  readonly vlanScope: Scope<Vlan>;
  readonly switchScope: Scope<Switch>;
}

export function resolveInfrastructure(
  documents: readonly Document[],
  rigs: Rigs,
  context: ResolveContext,
): Infrastructure {
  const pairOf = createPairs();
  const networkScope = new Scope<Network>('network');
  const vlanScope = new Scope<Vlan>('vlan');
  const switchScope = new Scope<Switch>('switch');
  const networks: Network[] = [];
  const vlans: Vlan[] = [];
  const switches: Switch[] = [];
  for (const document of documents) {
    const rig = rigs.of(document);
    for (const raw of rawPlan(document).networks ?? []) {
      const network: Network = { origin: originOf(document, raw), rig, name: raw.name, role: raw.role, leg: raw.leg };
      networks.push(network);
      networkScope.add(rig, raw.name, network);
    }
  }
  for (const document of documents) {
    const rig = rigs.of(document);
    for (const raw of rawPlan(document).vlans ?? []) {
      const vlan = resolveVlan(document, raw, rig, networkScope, context);
      vlans.push(vlan);
      vlanScope.add(rig, raw.name, vlan);
    }
  }
  for (const document of documents) {
    if (document.isList) addListed(document, rigs.of(document), networks, vlans, networkScope, vlanScope);
  }
  for (const document of documents) {
    const rig = rigs.of(document);
    for (const raw of rawPlan(document).switches ?? []) {
      const one = resolveSwitch(document, raw, rig, vlanScope, pairOf, context);
      switches.push(one);
      switchScope.add(rig, raw.name, one);
    }
  }
  return { networks, vlans, switches, networkScope, vlanScope, switchScope };
}

/**
 * A stream list names networks and VLANs without defining them. Those the plan does not know become entries of their own,
 * so that equal names in the list are one place; a bare number means the VLAN of that id.
 */
function addListed(
  document: Document,
  rig: Rig,
  networks: Network[],
  vlans: Vlan[],
  networkScope: Scope<Network>,
  vlanScope: Scope<Vlan>,
): void {
  for (const stream of rawPlan(document).streams ?? []) {
    for (const leg of stream.legs ?? []) {
      if (leg.network !== undefined && networkScope.find(rig, leg.network) === undefined) {
        const network: Network = {
          origin: originOf(document, leg),
          rig,
          name: leg.network,
          role: undefined,
          leg: undefined,
        };
        networks.push(network);
        networkScope.add(rig, leg.network, network);
      }
      if (leg.vlan === undefined || vlanScope.find(rig, leg.vlan) !== undefined) continue;
      const id = /^\d{1,5}$/.test(leg.vlan) ? Number(leg.vlan) : undefined;
      const known = id === undefined ? undefined : vlans.find((vlan) => vlan.id === id && vlan.rig === rig);
      const network = leg.network === undefined ? undefined : networkScope.find(rig, leg.network);
      const vlan = known ?? listedVlan(document, leg, rig, leg.vlan, id, network);
      if (known === undefined) vlans.push(vlan);
      vlanScope.add(rig, leg.vlan, vlan);
    }
  }
}

function listedVlan(
  document: Document,
  leg: object,
  rig: Rig,
  name: string,
  id: number | undefined,
  network: Network | undefined,
): Vlan {
  return {
    origin: originOf(document, leg),
    rig,
    name,
    id,
    network,
    subnet: undefined,
    subnet6: undefined,
    gateway: undefined,
    gateway6: undefined,
    mtu: undefined,
    dhcp: undefined,
    forwarding: undefined,
    igmp: undefined,
    mld: undefined,
    routing: undefined,
    transit: undefined,
    joinedAs: undefined,
  };
}

function resolveSwitch(
  document: Document,
  raw: RawSwitch,
  rig: Rig,
  vlans: Scope<Vlan>,
  pairOf: (rig: Rig, name: string) => SwitchPair,
  context: ResolveContext,
): Switch {
  const ports = new Map<string, Port>();
  const addresses: SwitchAddress[] = [];
  const origin = originOf(document, raw);
  const one: Draft<Switch> = {
    origin,
    rig,
    name: raw.name,
    area: raw.area,
    pair: raw.pair === undefined ? undefined : pairOf(rig, raw.pair),
    ports,
    addresses,
    forwarding: raw.forwarding,
    bindings: [],
    routerPorts: [],
    snooping: raw.snooping,
    snoopingKey: raw.snoopingKey,
    groupTableSize: raw.groupTableSize,
    unregistered: raw.unregistered,
    noQuerier: raw.noQuerier,
    tableFull: raw.tableFull,
    mtu: raw.mtu,
    spanningTree: undefined,
    power: raw.power ?? [],
    ptp: undefined,
  };
  for (const port of raw.ports ?? []) addPorts(document, port, one, ports, vlans, context);
  one.spanningTree = resolveTree(document, raw.spanningTree, origin, context, (at, texts) =>
    findAll(at, 'vlans', texts, rig, vlans, { kind: 'switch', entity: one }, context),
  );
  one.ptp = resolvePtp(document, raw.ptp, undefined, () => ({ ...partsOfSwitch(one), context }));
  for (const held of raw.addresses ?? []) {
    const at = originOf(document, held);
    const address = context.interfaceAddress(at, 'address', held.address);
    addresses.push({
      origin: at,
      switch: one,
      vlan: context.find(vlans, rig, at, 'vlan', held.vlan, { kind: 'switch', entity: one }),
      address: address?.address,
      prefixLength: address?.length,
      mac: context.mac(at, 'mac', held.mac),
    });
  }
  return one;
}

function addPorts(
  document: Document,
  raw: RawSwitchPort,
  owner: Switch,
  ports: Map<string, Port>,
  vlans: Scope<Vlan>,
  context: ResolveContext,
): void {
  const origin = originOf(document, raw);
  const by: Referrer = { kind: 'switch', entity: owner };
  const find = (key: string, text: string | undefined): Vlan | undefined =>
    context.find(vlans, owner.rig, origin, key, text, by);
  const rateBps = context.quantity(origin, 'rate', raw.rate, parseRate);
  const access = find('access', raw.access);
  const trunk =
    raw.trunk === 'all'
      ? raw.trunk
      : raw.trunk === undefined
        ? undefined
        : findAll(origin, 'trunk', raw.trunk, owner.rig, vlans, by, context);
  const native = find('native', raw.native);
  const mtu = raw.mtu ?? owner.mtu;
  const tree = raw.spanningTree;
  const spanningTree = tree === undefined ? undefined : { cost: tree.cost, priority: tree.priority };
  const names = portNames(String(raw.name));
  if (names === undefined) {
    context.faults.push({
      place: { document, container: raw, key: 'name' },
      what: `\`${String(raw.name)}\` is not a range of ports`,
      instead: `write first and last number, at most ${MOST_PORTS} ports: \`1-32\` or \`1/1-8\``,
    });
    return;
  }
  for (const name of names) {
    // A port written twice keeps its first entry; the ports rule reports the second.
    const first = ports.get(name);
    if (first === undefined)
      ports.set(name, { origin, switch: owner, name, rateBps, access, trunk, native, mtu, spanningTree });
    else context.repeatedPorts.push({ switch: owner, name, first: first.origin, again: origin });
  }
}

export function findAll(
  origin: Origin,
  key: string,
  texts: readonly string[],
  rig: Rig,
  vlans: Scope<Vlan>,
  by: Referrer,
  context: ResolveContext,
): readonly Vlan[] {
  const list = listOrigin(origin, key);
  return texts.flatMap((text, index) => context.find(vlans, rig, list, index, text, by) ?? []);
}
