import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  groupBy,
  inRange,
  isIPv4,
  legLabel,
  mapAll,
  mark,
  noted,
  touchOf,
  vlanOfAddress,
  type Address,
  type Plan,
  type Vlan,
} from '../../../src/doors/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'streams/unicast-to-nobody',
  summary: 'A unicast stream is sent to an address in the rig that nothing has',
  severity: 'error',
  sources: [clause('RFC 826', 'Packet Reception'), clause('RFC 4861', '7.2.2')],
  needs: ['unicast', 'subnets', 'addresses'],
  *check({ plan, model }) {
    const { byAddress } = model.owners;
    const lost = groupBy(plan.legs, ({ unicast }) =>
      unicast === undefined || byAddress.has(unicast) ? undefined : unicast,
    );
    if (lost.size === 0) return;
    const vlanOf = vlanOfAddress(plan.vlans);
    const open = vlansOfUnknownHosts(plan);
    const addressed = plan.interfaces.filter((one) => one.address !== undefined || one.address6 !== undefined);
    const peopled = new Set(addressed.flatMap(({ vlan }) => vlan ?? []));
    for (const [address, unordered] of lost) {
      const legs = byLabel(unordered, legLabel);
      const { sender } = legs[0];
      const vlan = vlanOf(sender.rig, address);
      if (vlan === undefined || !peopled.has(vlan) || open.has(vlan) || isHandedOut(vlan, address)) continue;
      const subnet = isIPv4(address) ? vlan.subnet : vlan.subnet6;
      const text = formatAddress(address);
      const [at, ...others] = mapAll(legs, (leg) => noted(mark(leg, legLabel(leg), 'unicast'), text));
      yield {
        subject: text,
        parties: legs.map(legLabel),
        facts: { legs, address: text, vlan, subnet: subnet === undefined ? undefined : formatPrefix(subnet) },
        at,
        others,
        touch: touchOf(sender),
      };
    }
  },
  words,
});

/** VLANs with hosts on DHCP whose addresses the plan cannot tell. */
function vlansOfUnknownHosts(plan: Plan): ReadonlySet<Vlan> {
  const unknown = plan.interfaces.filter((one) => one.dhcp && one.address === undefined);
  return new Set(unknown.flatMap(({ vlan }) => (vlan === undefined || vlan.dhcp !== undefined ? [] : [vlan])));
}

function isHandedOut(vlan: Vlan, address: Address): boolean {
  return vlan.dhcp !== undefined && inRange(address, vlan.dhcp);
}
