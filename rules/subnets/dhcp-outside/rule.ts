import {
  clause,
  defineRule,
  formatPrefix,
  formatRange,
  hostRange,
  inPrefix,
  isIPv4,
  mark,
  subnetFor,
  subnetKey,
  vlanSubject,
  type AddressRange,
  type Prefix,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'subnets/dhcp-outside',
  summary: 'The DHCP range reaches beyond the host addresses of its subnet',
  severity: 'error',
  sources: [clause('RFC 2131', '3.1'), clause('RFC 1122', '3.2.1.3'), clause('RFC 3021', '2.1')],
  needs: ['subnets', 'dhcp'],
  *check({ plan, model }) {
    for (const vlan of plan.vlans) {
      const { dhcp } = vlan;
      const subnet = dhcp === undefined ? undefined : subnetFor(vlan, dhcp.first);
      if (dhcp === undefined || subnet === undefined) continue;
      const wanted = model.addressing.fits.get(subnet)?.outvotedBy?.prefix;
      if (wanted !== undefined && inPrefix(dhcp.first, wanted) && inPrefix(dhcp.last, wanted)) continue; // the subnet is wrong, not the range
      const outside = !inPrefix(dhcp.first, subnet) || !inPrefix(dhcp.last, subnet);
      const ends = outside ? [] : endsHeld(dhcp, subnet);
      if (!outside && ends.length === 0) continue;
      const within = clip(dhcp, hostRange(subnet));
      yield {
        subject: vlanSubject(vlan),
        parties: [vlan.name],
        severity: outside ? 'error' : 'warning',
        what: outside
          ? `DHCP in VLAN ${vlan.name} hands out ${formatRange(dhcp)}, ${within === undefined ? 'all of it' : 'part of it'} outside ${formatPrefix(subnet)}`
          : `DHCP in VLAN ${vlan.name} hands out ${formatRange(dhcp)}, with the ${ends.join(' and ')} address of ${formatPrefix(subnet)}`,
        at: mark(vlan, `VLAN ${vlan.name}: range`, 'dhcp'),
        others: [mark(vlan, `VLAN ${vlan.name}: subnet`, subnetKey(vlan, subnet))],
        onAir: outside
          ? 'boxes that get such an address reach nothing in their VLAN, or the server refuses to start'
          : 'the box that gets such an address refuses it and stays without one; many servers leave the address out by themselves',
        fix:
          within === undefined
            ? `write a range inside ${formatRange(hostRange(subnet))}`
            : `write ${formatRange(within)}`,
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
});

function endsHeld(dhcp: AddressRange, subnet: Prefix): readonly string[] {
  const { first, last } = hostRange(subnet);
  return [
    ...(dhcp.first < first && isIPv4(first) ? ['network'] : []),
    ...(dhcp.last > last && isIPv4(last) ? ['broadcast'] : []),
  ];
}

function clip(dhcp: AddressRange, hosts: AddressRange): AddressRange | undefined {
  const first = dhcp.first < hosts.first ? hosts.first : dhcp.first;
  const last = dhcp.last > hosts.last ? hosts.last : dhcp.last;
  return first > last ? undefined : { first, last };
}
