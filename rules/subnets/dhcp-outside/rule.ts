import { certainly, createEditList, likely } from '../../../src/doors/cures.js';
import {
  clause,
  defineRule,
  formatPrefix,
  formatRange,
  inPrefix,
  isIPv4,
  mark,
  noted,
  subnetFor,
  subnetKey,
  vlanSubject,
  type Prefix,
  freeStretch,
} from '../../../src/doors/rule.js';
import { hostRange, type AddressRange } from '../../../src/doors/subnets.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'range' | 'subnet'>({
  id: 'subnets/dhcp-outside',
  summary: 'The DHCP range reaches beyond the host addresses of its subnet',
  severity: 'error',
  sources: [clause('RFC 2131', '3.1'), clause('RFC 1122', '3.2.1.3'), clause('RFC 3021', '2.1')],
  needs: ['subnets', 'dhcp'],
  brief: 'DHCP range outside its subnet',
  harm: 'later',
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
      const hosts = hostRange(subnet);
      const within = clip(dhcp, hosts);
      const label = `VLAN ${vlan.name}`;
      yield {
        subject: vlanSubject(vlan),
        parties: [vlan.name],
        severity: outside ? 'error' : 'warning',
        cure: () => {
          const edits = createEditList();
          if (within !== undefined) edits.set(vlan, 'dhcp', formatRange(within));
          const whole = within !== undefined ? undefined : freeStretch(vlan, [vlan], model.addressing);
          if (whole !== undefined) edits.set(vlan, 'dhcp', formatRange(atMost(whole, dhcp)));
          return within !== undefined && !outside
            ? certainly(edits)
            : likely(edits, 'which addresses the server hands out');
        },
        facts: {
          vlan,
          range: formatRange(dhcp),
          subnet: formatPrefix(subnet),
          ends,
          within: within === undefined ? undefined : formatRange(within),
          hosts: formatRange(hosts),
        },
        at: noted(mark(vlan, label, 'dhcp'), 'range'),
        others: [noted(mark(vlan, label, subnetKey(vlan, subnet)), 'subnet')],
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});

function endsHeld(dhcp: AddressRange, subnet: Prefix): Facts['ends'] {
  const { first, last } = hostRange(subnet);
  return [
    ...(dhcp.first < first && isIPv4(first) ? (['network'] as const) : []),
    ...(dhcp.last > last && isIPv4(last) ? (['broadcast'] as const) : []),
  ];
}

function clip(dhcp: AddressRange, hosts: AddressRange): AddressRange | undefined {
  const first = dhcp.first < hosts.first ? hosts.first : dhcp.first;
  const last = dhcp.last > hosts.last ? hosts.last : dhcp.last;
  return first > last ? undefined : { first, last };
}

/** No more addresses than the server had, and no more than half of what is free: boxes to come need theirs. */
function atMost(free: AddressRange, had: AddressRange): AddressRange {
  const size = (range: AddressRange): bigint => BigInt(range.last) - BigInt(range.first) + 1n;
  const half = size(free) / 2n;
  const taken = half < size(had) ? half : size(had);
  return typeof free.last === 'number'
    ? { first: free.last - Number(taken) + 1, last: free.last }
    : { first: free.last - taken + 1n, last: free.last };
}
