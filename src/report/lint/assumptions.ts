/** What was assumed, one line a fact however many switches or VLANs it was assumed of. */
import { byLabel } from '../../collections/order.js';
import type { Assumption } from '../../model/network/index.js';
import { agree, counted } from '../../words/counts.js';
import { listNames } from '../../words/lists.js';
import { treeDoubtWords } from '../../words/spanning-tree.js';
import { protocolName } from '../../words/segments.js';

/** `switches red-core and red-truck forget groups while no querier is heard (...)`, in the order given. */
export function assumptionWords(assumptions: readonly Assumption[]): readonly string[] {
  return assumptions.map(wordsOf);
}

function wordsOf(one: Assumption): string {
  switch (one.fact) {
    case 'snooping':
      return `${named('VLAN', one.vlans)}: ${protocolName(one.protocol)} snooping is on; state \`${one.protocol}: {snooping: …}\` there.`;
    case 'noQuerier':
      return `${named('switch', one.switches)}: groups are forgotten while no querier is heard; state \`noQuerier\`.`;
    case 'unregistered':
      return `${named('switch', one.switches)}: groups nobody joined go to router ports only; state \`unregistered\`.`;
    case 'snoopingKey':
      return `${named('switch', one.switches)}: streams are forwarded by group; state \`snoopingKey\`.`;
    case 'unicastRoute':
      return `${listNames(
        byLabel(one.boxes, (name) => name),
        4,
      )} pass streams to one address on by the fewest boxes; a plan states no unicast routes.`;
    case 'spanningTree':
      return `${named('VLAN', one.vlans)}: the links make a loop, and the spanning tree's root is taken to be ${one.root}; ${listNames(one.doubts.map(treeDoubtWords))}.`;
    case 'equalPaths':
      return one.spread
        ? `${named('router', one.routers)}: streams spread over equal paths by a sum nobody can foresee; all are counted on the one with the lowest neighbour address.`
        : `${named('router', one.routers)}: of equal paths the one with the lowest neighbour address is taken, for all streams; state \`practice: {equalPaths: …}\`.`;
    case 'designatedRouter':
      return `${named('VLAN', one.vlans)}: which router serves the receivers is taken from the addresses known; give every router its address there.`;
    case 'metric':
      return `${named('router', one.routers)}: an interface towards other routers costs 1 where no \`metric\` is stated.`;
    case 'switchover':
      return `${counted(one.streams, 'stream')} of any source: counted on the shortest way; for about the first minute a copy goes by the rendezvous point too (RFC 7761 §4.2.1), and only a TTL that lasts for that way lets it begin.`;
    case 'routerLoss':
      return `${named('router', one.routers)}: what the loss of a whole router would put on other links is not judged; that of one link is.`;
    case 'bond':
      return `${listNames(
        byLabel(one.devices, (name) => name),
        4,
      )}: a stream on a member of a bond is followed on the port of that member alone; its cable counts as the only one.`;
    case 'gateway':
      return `${named('VLAN', one.vlans)}: the gateway belongs to a router outside the plan; write down who routes there, and its address.`;
    case 'ptpNetworks':
      return `${agree(one.networks.length, 'network')} ${listNames(one.networks, 4)}: for management, and so without PTP of domain ${one.domain}; state \`networks\` of the domain, or \`ptp: {interfaces: […]}\` of a clock.`;
    case 'pairWay':
      return `${named('switch', one.switches)}: which switch of a pair a stream comes to is settled by the switch that sends it, and counted as one of them; each member, and the link between the pair, may carry all of it.`;
  }
}

function named(what: 'VLAN' | 'switch' | 'router', names: readonly string[]): string {
  const sorted = byLabel(names, (name) => name);
  const noun = names.length === 1 ? what : what === 'switch' ? 'switches' : `${what}s`;
  return `${noun} ${listNames(sorted, 4)}`;
}
