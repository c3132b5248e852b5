import {
  clause,
  commonPractice,
  defineRule,
  formatPrefix,
  groupBy,
  hostsPerSubnet4,
  isIPv4,
  mark,
  mostUsed4,
  networkOf,
  subnetKey,
  subnetUse4,
  vlanSubject,
  type Prefix,
  type SubnetUse,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'subnets/nearly-full',
  summary: 'A subnet has few addresses left, or too few',
  severity: 'warning',
  sources: [
    clause('RFC 1878', 'Table 1-2'),
    clause('RFC 3021', '2.1'),
    commonPractice('a tenth of a subnet kept free for boxes that turn up on the day'),
  ],
  needs: ['subnets'],
  thresholds: {
    percent: { default: 90, what: 'share of the host addresses of a subnet that may be used, in percent' },
  },
  *check({ plan, model, threshold }) {
    const percent = threshold('percent');
    const unaddressed = groupBy(plan.interfaces, (one) =>
      one.address === undefined && one.address6 === undefined ? one.vlan : undefined,
    );
    for (const vlan of plan.vlans) {
      const subnet = [vlan.subnet, vlan.subnet6].find((one) => one !== undefined && isIPv4(one.network));
      if (subnet === undefined || model.addressing.fits.get(subnet)?.outvotedBy !== undefined) continue;
      const held = model.addressing.byVlan.get(vlan) ?? [];
      const boxes = unaddressed.get(vlan) ?? [];
      // Counting each address once is worth while only where their number could do.
      if (mostUsed4(vlan, held, boxes) * 100 < percent * hostsPerSubnet4(subnet.length)) continue;
      const use = subnetUse4(vlan, subnet, held, boxes);
      const over = use.used > use.usable;
      // A /30 or longer is a link between two boxes, full by design.
      if (!over && (subnet.length >= 30 || use.used * 100 < percent * use.usable)) continue;
      const wider = widerSubnet(subnet, use.used, percent);
      yield {
        subject: vlanSubject(vlan),
        parties: [vlan.name],
        severity: over ? 'error' : 'warning',
        what: `${formatPrefix(subnet)} of VLAN ${vlan.name} has ${use.usable} host ${use.usable === 1 ? 'address' : 'addresses'}, and ${use.used} are ${over ? 'needed' : 'used'}: ${partsOf(use)}`,
        at: mark(vlan, `VLAN ${vlan.name}: ${leftOf(use)}`, subnetKey(vlan, subnet)),
        onAir: over
          ? 'some boxes stay without an address: whoever is switched on last has no control'
          : `nothing yet; ${nextWithout(use.usable - use.used)} finds no address, and that shows on the day`,
        fix:
          wider === undefined
            ? 'move some boxes to another VLAN'
            : `make it a /${wider.length} (${formatPrefix(wider)}, ${hostsPerSubnet4(wider.length)} host addresses) if no other VLAN uses the rest${use.dhcp === 0 ? '' : ', or shorten the DHCP range'}`,
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
});

function leftOf({ used, usable }: SubnetUse): string {
  if (used > usable) return `${used - usable} too few`;
  return used === usable ? 'none left' : `${usable - used} left`;
}

function nextWithout(left: number): string {
  return left === 0 ? 'the next box' : left === 1 ? 'the second box that turns up' : `the box after the next ${left}`;
}

function partsOf({ fixed, dhcp, unnumbered }: SubnetUse): string {
  const parts = [`${fixed} fixed`];
  if (dhcp > 0) parts.push(`${dhcp} by DHCP`);
  if (unnumbered > 0) parts.push(`${unnumbered} not given yet`);
  return parts.join(', ');
}

/** The next wider subnet that leaves enough free. */
function widerSubnet(subnet: Prefix, used: number, percent: number): Prefix | undefined {
  for (let length = Math.min(subnet.length - 1, 29); length >= 8; length--) {
    const network = networkOf(subnet.network, length);
    if (used * 100 < percent * hostsPerSubnet4(length)) return { address: network, network, length };
  }
  return undefined;
}
