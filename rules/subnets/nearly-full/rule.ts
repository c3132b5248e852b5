import { createEditList, likely, peopleDecide } from '../../../src/doors/cures.js';
import {
  clause,
  commonPractice,
  defineRule,
  formatPrefix,
  groupBy,
  isIPv4,
  mark,
  networkOf,
  noted,
  subnetKey,
  vlanSubject,
  type Prefix,
  formatAddress,
  inPrefix,
} from '../../../src/doors/rule.js';
import { hostsPerSubnet4, mostUsed4, subnetUse4 } from '../../../src/doors/subnets.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, number>({
  id: 'subnets/nearly-full',
  summary: 'A subnet has few addresses left, or too few',
  severity: 'warning',
  sources: [
    clause('RFC 1878', 'Table 1-2'),
    clause('RFC 3021', '2.1'),
    commonPractice('a tenth of a subnet kept free for boxes that turn up on the day'),
  ],
  needs: ['subnets'],
  brief: 'subnet nearly full',
  harm: 'later',
  thresholds: {
    percent: { default: 90, what: 'share of the host addresses of a subnet that may be used, in percent' },
  },
  *check({ plan, model, threshold }) {
    const unaddressed = groupBy(plan.interfaces, (one) =>
      one.address === undefined && one.address6 === undefined ? one.vlan : undefined,
    );
    for (const vlan of plan.vlans) {
      const subnet = [vlan.subnet, vlan.subnet6].find((one) => one !== undefined && isIPv4(one.network));
      if (subnet === undefined || model.addressing.fits.get(subnet)?.outvotedBy !== undefined) continue;
      const percent = threshold('percent', vlan.rig);
      const held = model.addressing.byVlan.get(vlan) ?? [];
      const boxes = unaddressed.get(vlan) ?? [];
      // Counting each address once is worth while only where their number could do.
      if (mostUsed4(vlan, held, boxes) * 100 < percent * hostsPerSubnet4(subnet.length)) continue;
      const use = subnetUse4(vlan, subnet, held, boxes);
      const { used, usable, fixed, dhcp, unnumbered } = use;
      const over = used > usable;
      // A /30 or longer is a link between two boxes, full by design.
      if (!over && (subnet.length >= 30 || used * 100 < percent * usable)) continue;
      const wider = widerSubnet(subnet, used, percent);
      yield {
        subject: vlanSubject(vlan),
        parties: [vlan.name],
        severity: over ? 'error' : 'warning',
        confidence: over ? 'certain' : 'likely',
        cure: () => {
          if (wider === undefined) return peopleDecide('how to part the VLAN');
          const edits = createEditList();
          edits.set(vlan, subnetKey(vlan, subnet), wider.subnet);
          for (const one of held)
            if (one.prefixLength === subnet.length && inPrefix(one.address, subnet))
              edits.set(one.owner, one.key, `${formatAddress(one.address)}/${wider.length}`);
          return likely(edits);
        },
        facts: { vlan, subnet: formatPrefix(subnet), usable, used, fixed, dhcp, unnumbered, wider },
        at: noted(mark(vlan, `VLAN ${vlan.name}`, subnetKey(vlan, subnet)), usable - used),
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});

/** The next wider subnet that leaves enough free. */
function widerSubnet(subnet: Prefix, used: number, percent: number): Facts['wider'] {
  for (let length = Math.min(subnet.length - 1, 29); length >= 8; length--) {
    const hosts = hostsPerSubnet4(length);
    if (used * 100 >= percent * hosts) continue;
    const wide = networkOf(subnet.network, length);
    return { length, subnet: formatPrefix({ address: wide, network: wide, length }), hosts };
  }
  return undefined;
}
