import {
  byLabel,
  clause,
  defineRule,
  domainOfOwner,
  formatMac,
  holderLabel,
  inRig,
  isGroupMac,
  isInterface,
  isLocalMac,
  isVirtualRouterMac,
  listNames,
  mark,
  oneBoxWrittenTwice,
  rigOf,
  standsNowhere,
  touchOfOwner,
  UnionFind,
  type Device,
  type Interface,
  type Mac,
  type Model,
  type Owner,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'hosts/duplicate-mac',
  summary: 'Two interfaces have one MAC address',
  severity: 'error',
  sources: [clause('RFC 9542', '2.1'), clause('IEEE 802.1Q-2018', '8.7'), clause('RFC 9568', '7.3')],
  needs: ['macs'],
  *check({ model }) {
    for (const mac of model.owners.repeatedMacs) {
      if (mac === 0 || isGroupMac(mac)) continue; // hosts/unusable-mac
      for (const { stations, meets } of clashesOf(mac, model.owners.byMac.get(mac) ?? [], model)) {
        const [first, second, ...rest] = stations;
        if (first === undefined || second === undefined) continue;
        const names = stations.map(holderLabel);
        yield {
          subject: `${formatMac(mac)}${isLocalMac(mac) ? ` on ${holderLabel(first)}${inRig(rigOf(first))}` : ''}`,
          parties: names,
          severity: meets ? 'error' : 'warning',
          what: `MAC ${formatMac(mac)} is on ${listNames(names)}${meets ? '' : ', in networks that do not meet'}`,
          at: mark(second, `${holderLabel(second)}: read the MAC off this box again`, 'mac'),
          others: [first, ...rest].map((owner) => mark(owner, holderLabel(owner), 'mac')),
          onAir: meets
            ? 'switches move the MAC from port to port with every frame: each of the boxes loses control, PTP and unicast for moments at a time'
            : 'nothing between the boxes, but one entry is wrong: DHCP reservations, port security and fault finding follow the wrong box',
          fix: isLocalMac(mac)
            ? 'give each its own MAC'
            : 'two interfaces never leave a factory with one MAC: read it off each label and correct the entry that is wrong',
          touch: touchOfOwner(second),
        };
      }
    }
  },
});

interface Clash {
  readonly stations: readonly Owner[];
  /** True where two of them certainly share a switched domain, or may because one stands nowhere. */
  readonly meets: boolean;
}

function clashesOf(mac: Mac, owners: readonly Owner[], model: Model): readonly Clash[] {
  const stations = stationsOf(owners);
  if (stations.length < 2 || oneBoxWrittenTwice(stations) || new Set(stations.map(holderLabel)).size < 2) return [];
  const domains = new UnionFind<object>();
  const nowhere = stations.find(standsNowhere);
  for (const owner of stations) {
    if (nowhere !== undefined) domains.union(nowhere, owner);
    if (!standsNowhere(owner)) domains.union(domainOfOwner(owner, model.domains), owner);
  }
  const byDomain = new Map<object, Owner[]>();
  for (const owner of stations) {
    const root = domains.find(owner);
    const list = byDomain.get(root);
    if (list === undefined) byDomain.set(root, [owner]);
    else list.push(owner);
  }
  const meeting = [...byDomain.values()].filter((list) => list.length > 1 && !entryCopied(list));
  // A made-up MAC need be unique in its own network only; a virtual router's is meant to repeat in every VLAN.
  if (isLocalMac(mac) || isVirtualRouterMac(mac)) {
    return meeting.map((list) => ({ stations: byLabel(list, holderLabel), meets: true }));
  }
  if (entryCopied(stations)) return [];
  return [{ stations: byLabel(stations, holderLabel), meets: meeting.length > 0 }];
}

/** One of each set of owners that share a MAC by design: addresses of one switch, VLAN interfaces on one port. */
function stationsOf(owners: readonly Owner[]): readonly Owner[] {
  const unpatched = new Set<Device>();
  for (const owner of owners) if (isInterface(owner) && owner.port === undefined) unpatched.add(owner.device);
  const seen = new Map<object, Set<unknown>>();
  return owners.filter((owner) => {
    const box = isInterface(owner) ? owner.device : owner.switch;
    const port = isInterface(owner) ? portOf(owner, unpatched.has(owner.device)) : undefined;
    const ports = seen.get(box);
    if (ports === undefined) {
      seen.set(box, new Set([port]));
      return true;
    }
    const again = ports.has(port);
    ports.add(port);
    return !again;
  });
}

/** Its switch port; where a device does not state them all, its leg of the redundant pair, for legs need two ports. */
function portOf(one: Interface, unpatched: boolean): unknown {
  return unpatched ? one.network?.leg : one.port;
}

/** Same address too: `hosts/duplicate-address` reports the copied entry, or it is a shared gateway. */
function entryCopied(owners: readonly Owner[]): boolean {
  const address = owners[0]?.address;
  return address !== undefined && owners.every((owner) => owner.address === address);
}
