import {
  byLabel,
  clause,
  defineRule,
  domainOfOwner,
  formatAddress,
  forwards,
  gatewayFor,
  holderLabel,
  hostAddressFault,
  inPrefix,
  isInterface,
  isIPv4,
  isLinkLocal,
  listNames,
  mark,
  oneBoxWrittenTwice,
  rigOf,
  standsNowhere,
  subnetFor,
  touchOfOwner,
  UnionFind,
  vlanSubject,
  type Address,
  type Model,
  type Network,
  type Owner,
  type Rig,
} from '../../../src/lint/rule.js';

/** Owners of one address that meet. */
interface Clash {
  readonly address: Address;
  /** Sorted by label; at least two labels differ. */
  readonly owners: readonly Owner[];
  /** True where they certainly meet; false where only the rig joins them. */
  readonly meets: boolean;
  readonly gateway: 'shared' | 'unsaid' | undefined;
}

const IPV4 = [clause('RFC 5227', '1'), clause('RFC 826', 'Packet Reception'), clause('RFC 1122', '3.3.4.1')];
const IPV6 = [clause('RFC 4862', '5.4')];
const GATEWAY = [clause('RFC 9568', '7.3')];

export default defineRule({
  id: 'hosts/duplicate-address',
  summary: 'Two interfaces hold one address',
  severity: 'error',
  sources: [...IPV4, ...IPV6, ...GATEWAY],
  needs: ['addresses'],
  *check({ model }) {
    const clashes: Clash[] = [];
    for (const address of model.owners.repeatedAddresses) {
      clashes.push(...clashesOf(address, model.owners.byAddress.get(address) ?? [], model));
    }
    // So that suggestions do not depend on the plan's order.
    clashes.sort((a, b) => compareAddresses(a.address, b.address));
    for (const clash of clashes) {
      if (clash.gateway === 'shared') continue;
      const [first, second, ...rest] = clash.owners;
      if (first === undefined || second === undefined) continue;
      const address = formatAddress(clash.address);
      const label = labelIn(clash.owners);
      const names = clash.owners.map(label);
      const shared = {
        subject: subjectOf(clash.address, first),
        parties: names,
        others: [first, ...rest].map((owner) => mark(owner, label(owner), keyOf(owner, clash.address))),
        touch: touchOfOwner(second),
        sources: clash.gateway === 'unsaid' ? GATEWAY : isIPv4(clash.address) ? IPV4 : IPV6,
      };
      if (clash.gateway === 'unsaid') {
        yield {
          ...shared,
          severity: 'warning',
          what: `gateway address ${address} of VLAN ${first.vlan?.name ?? ''} is on ${listNames(names)}, and nothing says they share it`,
          at: mark(second, `${label(second)}: the same gateway address`, 'address'),
          onAir:
            'unless they run a shared-gateway protocol, both answer for the address: traffic out of the VLAN works, stalls and works again',
          fix: `if they share it, write the one virtual \`mac\` at each of them; if not, leave ${address} to one and give the others addresses of their own`,
        };
        continue;
      }
      const free = model.proposals.address(second.vlan, clash.address, second);
      const copied = sameMac(clash.owners) ? `, with one MAC: the entry looks copied` : '';
      yield {
        ...shared,
        severity: clash.meets ? 'error' : 'warning',
        what: `${address} is on ${listNames(names)}${clash.meets ? copied : `${copied}, in VLANs that nothing joins today`}`,
        at: mark(second, `${label(second)}: give this one another address`, keyOf(second, clash.address)),
        onAir: clash.meets
          ? 'each answers for the address: control, PTP and unicast reach now one, now the other, and receivers that filter by source take the wrong sender. It starts when the second one is powered'
          : 'nothing until the VLANs are joined, by a patch or by a router: then each answers for the address and both drop in and out',
        fix: `leave ${address} to one and give ${clash.owners.length === 2 ? 'the other' : 'each other'} an address nobody else has${free === undefined ? '' : `; ${formatAddress(free)} is free`}`,
      };
    }
  },
});

function clashesOf(address: Address, owners: readonly Owner[], model: Model): readonly Clash[] {
  if (hostAddressFault(address)?.severity === 'error') return []; // hosts/special-purpose: nobody can use it anyway
  const held = owners.filter((owner) => !takesGateway(owner, address));
  if (held.length < 2) return [];
  const meeting = unite(address, held, model);
  const near = new UnionFind<object>();
  for (const owner of held) near.union(meeting.find(owner), owner);
  if (!isLinkLocal(address)) {
    const rigs = new Set(held.filter((owner) => standing(owner, address) === 'open').map(rigOf));
    for (const owner of held) {
      if (standing(owner, address) !== 'stray' && rigs.has(rigOf(owner))) near.union(rigOf(owner), owner);
    }
  }
  const clusters = new Map<object, Owner[]>();
  for (const owner of held) {
    const root = near.find(owner);
    const list = clusters.get(root);
    if (list === undefined) clusters.set(root, [owner]);
    else list.push(owner);
  }
  return [...clusters.values()].flatMap((cluster): Clash[] => {
    const label = labelIn(cluster);
    if (new Set(cluster.map(label)).size < 2 || oneBoxWrittenTwice(cluster)) return [];
    const roots = new Set(cluster.map((owner) => meeting.find(owner)));
    const meets = roots.size < cluster.length;
    return [{ address, owners: byLabel(cluster, label), meets, gateway: gatewayShared(address, cluster) }];
  });
}

/** Boxes of two rigs that share a name are told apart by the rig: only an ancestor of both plans makes them one box. */
function labelIn(owners: readonly Owner[]): (owner: Owner) => string {
  const names = new Map<string, Rig>();
  let shared = false;
  for (const owner of owners) {
    const rig = names.get(holderLabel(owner));
    if (rig !== undefined && rig !== rigOf(owner)) shared = true;
    names.set(holderLabel(owner), rigOf(owner));
  }
  return shared ? (owner) => `${holderLabel(owner)} of ${rigOf(owner).name}` : holderLabel;
}

/** Owners that certainly meet: on one box, in one switched domain, in VLANs joined by routing, or placed nowhere. */
function unite(address: Address, held: readonly Owner[], { domains, unicastReach }: Model): UnionFind<object> {
  const met = new UnionFind<object>();
  const nowhere = held.find(standsNowhere);
  const networks = new Set<Network>();
  const open = new Set<object>();
  for (const owner of held) {
    const { vlan } = owner;
    if (vlan === undefined && isInterface(owner) && owner.network !== undefined) networks.add(owner.network);
    if (vlan !== undefined && standing(owner, address) === 'open') open.add(unicastReach.joined(vlan));
  }
  for (const owner of held) {
    const { vlan } = owner;
    met.add(owner);
    if (isInterface(owner) && !isLinkLocal(address)) met.union(owner.device, owner);
    if (nowhere !== undefined) met.union(nowhere, owner);
    if (vlan === undefined) {
      if (isInterface(owner) && owner.network !== undefined) met.union(owner.network, owner);
      continue;
    }
    met.union(domainOfOwner(owner, domains), owner);
    if (vlan.network !== undefined && networks.has(vlan.network)) met.union(vlan.network, owner);
    const reach = unicastReach.joined(vlan);
    if (!isLinkLocal(address) && standing(owner, address) !== 'stray' && open.has(reach)) met.union(reach, owner);
  }
  return met;
}

/** `open`: its VLAN states no subnet. `stray`: outside it, which is `hosts/outside-subnet`'s to say. */
function standing(owner: Owner, address: Address): 'fits' | 'stray' | 'open' {
  const subnet = owner.vlan === undefined ? undefined : subnetFor(owner.vlan, address);
  return subnet === undefined ? 'open' : inPrefix(address, subnet) ? 'fits' : 'stray';
}

/** `subnets/gateway-taken` reports these. */
function takesGateway(owner: Owner, address: Address): boolean {
  return owner.vlan !== undefined && !forwards(owner) && gatewayFor(owner.vlan, address)?.address === address;
}

/** Routers of one VLAN that hold its gateway: shared when they state one MAC, unsaid when MACs are missing. */
function gatewayShared(address: Address, owners: readonly Owner[]): 'shared' | 'unsaid' | undefined {
  const [first] = owners;
  const vlan = first?.vlan;
  if (vlan === undefined || gatewayFor(vlan, address)?.address !== address) return undefined;
  if (!owners.every((owner) => owner.vlan === vlan && forwards(owner))) return undefined;
  if (owners.some((owner) => owner.mac === undefined)) return 'unsaid';
  return sameMac(owners) ? 'shared' : undefined;
}

function sameMac(owners: readonly Owner[]): boolean {
  return owners.every((owner) => owner.mac !== undefined && owner.mac === owners[0]?.mac);
}

function subjectOf(address: Address, first: Owner): string {
  const text = formatAddress(address);
  if (first.vlan !== undefined) return `${text} in ${vlanSubject(first.vlan)}`;
  return isInterface(first) && first.network !== undefined ? `${text} in network ${first.network.name}` : text;
}

function keyOf(owner: Owner, address: Address): string {
  return isInterface(owner) && owner.address6 === address ? 'address6' : 'address';
}

/** IPv4 before IPv6, then by value. */
function compareAddresses(a: Address, b: Address): number {
  return Number(isIPv4(b)) - Number(isIPv4(a)) || (a < b ? -1 : a > b ? 1 : 0);
}
