/** What was assumed, one line a fact however many switches or VLANs it was assumed of. */
import { byLabel } from '../../collections/order.js';
import type { Assumption } from '../../model/network/index.js';
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
  }
}

function named(what: 'VLAN' | 'switch', names: readonly string[]): string {
  const sorted = byLabel(names, (name) => name);
  const noun = names.length === 1 ? what : what === 'VLAN' ? 'VLANs' : 'switches';
  return `${noun} ${listNames(sorted, 4)}`;
}
