import { createEditList, likely, peopleDecide, type Cure, readdress } from '../../../src/doors/cures.js';
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
  routerAddress,
  subnetFor,
  type Address,
  type Model,
  type Vlan,
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
  harm: 'unicast',
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
          cure: () => cure(model, vlan, key, takers, routers.length, free),
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

/** Boxes leave the address to the router that has it; where none has, a router's own address becomes the gateway. */
function cure(
  model: Model,
  vlan: Vlan,
  key: 'gateway' | 'gateway6',
  takers: readonly Held[],
  routers: number,
  free: Address | undefined,
): Cure {
  const [first] = takers;
  if (first === undefined) return peopleDecide('who is to have the address');
  if (routers > 0)
    return readdress(
      model,
      takers.map(({ owner, address }) => ({
        owner,
        address,
        offered: owner === first.owner && free !== undefined ? formatAddress(free) : undefined,
      })),
      'certain',
    );
  const subnet = subnetFor(vlan, first.address);
  const router = subnet === undefined ? undefined : routerAddress(vlan, subnet, model.addressing);
  if (router === undefined) return peopleDecide('nobody but a host has the address of the gateway: what routes here');
  const edits = createEditList();
  edits.set(vlan, key, formatAddress(router.address));
  for (const one of model.plan.interfaces)
    if (one.vlan === vlan && one.gateway === first.address) edits.set(one, 'gateway', formatAddress(router.address));
  return likely(edits);
}
