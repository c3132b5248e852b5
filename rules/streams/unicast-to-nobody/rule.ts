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
  listNames,
  mark,
  touchOf,
  vlanOfAddress,
  type Address,
  type Plan,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
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
      const [first, ...rest] = legs;
      if (first === undefined) continue;
      const vlan = vlanOf(first.sender.rig, address);
      if (vlan === undefined || !peopled.has(vlan) || open.has(vlan) || isHandedOut(vlan, address)) continue;
      const subnet = isIPv4(address) ? vlan.subnet : vlan.subnet6;
      const names = legs.map(legLabel);
      const text = formatAddress(address);
      yield {
        subject: text,
        parties: names,
        what:
          `${listNames(names)} ${legs.length === 1 ? 'is' : 'are'} sent to ${text}, ` +
          `in ${subnet === undefined ? 'the subnet' : formatPrefix(subnet)} of VLAN ${vlan.name}, but no interface there has this address`,
        at: mark(first, `${legLabel(first)}: sent to ${text}`, 'unicast'),
        others: rest.map((leg) => mark(leg, `${legLabel(leg)}: sent to ${text}`, 'unicast')),
        onAir:
          'nobody answers for the address, so the stream is never sent or is dropped by the last router; the receiver stays dark',
        fix: `send it to the address of the receiving interface, or give that interface ${text}`,
        touch: touchOf(first.sender),
      };
    }
  },
});

/** VLANs with hosts on DHCP whose addresses the plan cannot tell. */
function vlansOfUnknownHosts(plan: Plan): ReadonlySet<Vlan> {
  const open = new Set<Vlan>();
  for (const one of plan.interfaces) {
    if (one.dhcp && one.address === undefined && one.vlan !== undefined && one.vlan.dhcp === undefined)
      open.add(one.vlan);
  }
  return open;
}

function isHandedOut(vlan: Vlan, address: Address): boolean {
  return vlan.dhcp !== undefined && inRange(address, vlan.dhcp);
}
