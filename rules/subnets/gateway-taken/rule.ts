import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  forwards,
  heldLabel,
  heldMark,
  isNonEmpty,
  mark,
  ofRig,
  otherEntries,
  rigOf,
  sharedVlans,
  touchOfOwner,
  vlanSubject,
  type Held,
} from '../../../src/doors/rule.js';
import { gatewayFor, gatewaysOf } from '../../../src/doors/subnets.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'has-it'>({
  id: 'subnets/gateway-taken',
  summary: 'A box that does not route has the gateway address of its VLAN',
  severity: 'error',
  sources: [clause('RFC 1122', '3.3.1.2'), clause('RFC 5227', '1')],
  needs: ['addresses', 'gateways'],
  brief: 'gateway address taken',
  *check({ plan, model }) {
    const othersOf = otherEntries(sharedVlans({ vlans: plan.vlans, domains: model.domains }));
    const { byVlan } = model.addressing;
    for (const vlan of plan.vlans) {
      for (const { address, key } of gatewaysOf(vlan)) {
        const own = (byVlan.get(vlan) ?? []).filter((held) => held.address === address);
        // Where the other entry states this gateway too, it speaks for its own hosts; where a router here has the address,
        // the two are `hosts/duplicate-address`.
        const abroad = own.some(({ owner }) => forwards(owner))
          ? []
          : othersOf(vlan)
              .filter((other) => gatewayFor(other, address)?.address !== address)
              .flatMap((other) => (byVlan.get(other) ?? []).filter((held) => held.address === address));
        const rig = (one: Parameters<typeof ofRig>[0]): string => (abroad.length === 0 ? '' : ofRig(one));
        const label = (held: Held): string => `${heldLabel(held)}${rig(rigOf(held.owner))}`;
        const holders = byLabel([...own, ...abroad], label);
        const takers = holders.filter(({ owner }) => !forwards(owner));
        if (!isNonEmpty(takers)) continue;
        const routers = holders.filter(({ owner }) => forwards(owner));
        const [first, ...rest] = takers;
        const free = model.proposals.address(first.vlan, address, first.owner);
        const gateway = formatAddress(address);
        yield {
          subject: `${gateway} in ${vlanSubject(vlan)}`,
          parties: [vlan.name, ...holders.map(label)],
          facts: {
            gateway,
            vlan: `${vlan.name}${rig(vlan.rig)}`,
            takers: takers.map(label),
            routers: routers.map(label),
            free: free === undefined ? undefined : formatAddress(free),
          },
          at: heldMark(first, 'has-it'),
          others: [
            ...[...rest, ...routers].map((held) => heldMark(held)),
            mark(vlan, `gateway of VLAN ${vlan.name}`, key),
          ],
          touch: touchOfOwner(first.owner),
        };
      }
    }
  },
  words,
});
