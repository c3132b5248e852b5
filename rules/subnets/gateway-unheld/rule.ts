import { createEditList, likely, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  heldLabel,
  heldMark,
  mark,
  otherEntries,
  sharedVlans,
  subnetFor,
  vlanSubject,
  type Address,
  type Held,
  type Model,
  type Vlan,
} from '../../../src/doors/rule.js';
import { gatewaysOf, soleRouter } from '../../../src/doors/subnets.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'subnets/gateway-unheld',
  summary: 'The one router of a VLAN has another address than the gateway, which nobody has',
  severity: 'warning',
  sources: [clause('RFC 1122', '3.3.1.2')],
  needs: ['addresses', 'gateways'],
  brief: 'gateway held by nobody',
  harm: 'unicast',
  *check({ plan, model }) {
    const othersOf = otherEntries(sharedVlans({ vlans: plan.vlans, domains: model.domains }));
    const heldIn = (vlan: Vlan): readonly Held[] => model.addressing.byVlan.get(vlan) ?? [];
    for (const vlan of byLabel(plan.vlans, vlanSubject)) {
      for (const { address, key } of gatewaysOf(vlan)) {
        const subnet = subnetFor(vlan, address);
        const router = subnet === undefined ? undefined : soleRouter(vlan, address, subnet, heldIn(vlan));
        if (router === undefined || othersOf(vlan).length > 0) continue;
        // Hosts that state the router's address show the same by `hosts/gateway-differs`.
        if (plan.interfaces.some((one) => one.vlan === vlan && one.gateway === router.address)) continue;
        const gateway = formatAddress(address);
        yield {
          subject: `${gateway} in ${vlanSubject(vlan)}`,
          parties: [vlan.name, heldLabel(router)],
          confidence: 'likely',
          cure: () => cure(model, vlan, key, address, router),
          facts: { gateway, vlan: vlan.name, router: heldLabel(router), address: formatAddress(router.address) },
          at: mark(vlan, `gateway of VLAN ${vlan.name}`, key),
          others: [heldMark(router)],
          touch: { kind: 'vlan', name: vlan.name },
        };
      }
    }
  },
  words,
});

function cure({ plan }: Model, vlan: Vlan, key: 'gateway' | 'gateway6', gateway: Address, router: Held): Cure {
  const edits = createEditList();
  edits.set(vlan, key, formatAddress(router.address));
  for (const one of plan.interfaces)
    if (one.vlan === vlan && one.gateway === gateway) edits.set(one, 'gateway', formatAddress(router.address));
  return likely(edits);
}
