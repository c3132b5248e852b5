import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  formatRange,
  heldFact,
  inPrefix,
  isIPv4,
  isLinkLocal,
  mark,
  noted,
  rangeOf,
  routerAddress,
  subnetFor,
  subnetKey,
  vlanSubject,
  type Address,
  type Prefix,
} from '../../../src/doors/rule.js';
import { gatewaysOf, hostRange } from '../../../src/doors/subnets.js';
import { words, type Facts, type Fault } from './words.js';

const IPV4 = [clause('RFC 1122', '3.3.1.1'), clause('RFC 1122', '3.2.1.3'), clause('RFC 3021', '2.1')];
const IPV6 = [clause('RFC 4861', '6.1.2')];

export default defineRule<Facts, 'gateway' | 'subnet'>({
  id: 'subnets/gateway-outside',
  summary: 'The gateway of a VLAN is no host address of its subnet',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['subnets', 'gateways'],
  brief: 'gateway outside its subnet',
  harm: 'unicast',
  *check({ plan, model: { addressing } }) {
    for (const vlan of plan.vlans) {
      for (const { address, key } of gatewaysOf(vlan)) {
        const subnet = subnetFor(vlan, address);
        if (subnet === undefined || isLinkLocal(address)) continue;
        const wanted = addressing.fits.get(subnet)?.outvotedBy?.prefix;
        if (wanted !== undefined && inPrefix(address, wanted)) continue; // the subnet is wrong, not the gateway
        const fault = faultOf(address, subnet);
        if (fault === undefined) continue;
        const router = routerAddress(vlan, subnet, addressing);
        const label = `VLAN ${vlan.name}`;
        yield {
          subject: `${formatAddress(address)} in ${vlanSubject(vlan)}`,
          parties: [vlan.name],
          cure: () => {
            const edits = createEditList();
            if (router !== undefined) edits.set(vlan, key, formatAddress(router.address));
            return likely(edits, "what the gateway's address is");
          },
          facts: {
            vlan,
            gateway: formatAddress(address),
            fault,
            subnet: formatPrefix(subnet),
            hosts: formatRange(hostRange(subnet)),
            router: router === undefined ? undefined : heldFact(router),
          },
          at: noted(mark(vlan, label, key), 'gateway'),
          others: [noted(mark(vlan, label, subnetKey(vlan, subnet)), 'subnet')],
          touch: { kind: 'vlan', name: vlan.name },
          sources: isIPv4(address) ? IPV4 : IPV6,
        };
      }
    }
  },
  words,
});

function faultOf(address: Address, subnet: Prefix): Fault | undefined {
  if (!inPrefix(address, subnet)) return 'outside';
  if (!isIPv4(address) || subnet.length > 30 || subnet.length === 0) return undefined; // routers may use their anycast address
  if (address === subnet.network) return 'network-address';
  return address === rangeOf(subnet).last ? 'broadcast-address' : undefined;
}
