import {
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  formatRange,
  gatewaysOf,
  heldLabel,
  hostRange,
  inPrefix,
  isIPv4,
  isLinkLocal,
  mark,
  rangeOf,
  routerAddress,
  subnetFor,
  subnetKey,
  vlanSubject,
  type Address,
  type Prefix,
} from '../../../src/lint/rule.js';

const IPV4 = [clause('RFC 1122', '3.3.1.1'), clause('RFC 1122', '3.2.1.3'), clause('RFC 3021', '2.1')];
const IPV6 = [clause('RFC 4861', '6.1.2')];

export default defineRule({
  id: 'subnets/gateway-outside',
  summary: 'The gateway of a VLAN is no host address of its subnet',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['subnets', 'gateways'],
  *check({ plan, model }) {
    for (const vlan of plan.vlans) {
      for (const { address, key } of gatewaysOf(vlan)) {
        const subnet = subnetFor(vlan, address);
        if (subnet === undefined || isLinkLocal(address)) continue;
        const wanted = model.addressing.fits.get(subnet)?.outvotedBy?.prefix;
        if (wanted !== undefined && inPrefix(address, wanted)) continue; // the subnet is wrong, not the gateway
        const fault = faultOf(address, subnet);
        if (fault === undefined) continue;
        const router = routerAddress(vlan, subnet, model.addressing);
        yield {
          subject: `${formatAddress(address)} in ${vlanSubject(vlan)}`,
          parties: [vlan.name],
          what: `gateway ${formatAddress(address)} of VLAN ${vlan.name} ${fault} ${formatPrefix(subnet)}`,
          at: mark(vlan, `VLAN ${vlan.name}: gateway`, key),
          others: [mark(vlan, `VLAN ${vlan.name}: subnet`, subnetKey(vlan, subnet))],
          onAir:
            'no box of the VLAN can reach the gateway, so nothing gets out of the VLAN or in: no control from other VLANs, no circuit',
          fix:
            router === undefined
              ? `write the gateway's address in ${formatRange(hostRange(subnet))}, or correct the subnet`
              : `write ${formatAddress(router.address)}, which ${heldLabel(router)} holds, or correct the subnet`,
          touch: { kind: 'vlan', name: vlan.name },
          sources: isIPv4(address) ? IPV4 : IPV6,
        };
      }
    }
  },
});

function faultOf(address: Address, subnet: Prefix): string | undefined {
  if (!inPrefix(address, subnet)) return 'is not in';
  if (!isIPv4(address) || subnet.length > 30 || subnet.length === 0) return undefined; // routers may use their anycast address
  if (address === subnet.network) return 'is the network address of';
  return address === rangeOf(subnet).last ? 'is the broadcast address of' : undefined;
}
