import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  forwards,
  gatewayFor,
  gatewaysOf,
  heldLabel,
  heldMark,
  listNames,
  mark,
  ofRig,
  otherEntries,
  rigOf,
  sharedVlans,
  touchOfOwner,
  vlanSubject,
  type Held,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'subnets/gateway-taken',
  summary: 'A box that does not route has the gateway address of its VLAN',
  severity: 'error',
  sources: [clause('RFC 1122', '3.3.1.2'), clause('RFC 5227', '1')],
  needs: ['addresses', 'gateways'],
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
        const holders = abroad.length === 0 ? own : [...own, ...abroad];
        const label = (held: Held): string =>
          `${heldLabel(held)}${abroad.length === 0 ? '' : ofRig(rigOf(held.owner))}`;
        const takers = byLabel(
          holders.filter(({ owner }) => !forwards(owner)),
          label,
        );
        const [first, ...rest] = takers;
        if (first === undefined) continue;
        const routers = byLabel(
          holders.filter(({ owner }) => forwards(owner)),
          label,
        );
        const free = model.proposals.address(first.vlan, address, first.owner);
        const text = formatAddress(address);
        yield {
          subject: `${text} in ${vlanSubject(vlan)}`,
          parties: [vlan.name, ...holders.map(label)],
          what: `${text}, the gateway of VLAN ${vlan.name}${abroad.length === 0 ? '' : ofRig(vlan.rig)}, is on ${listNames(takers.map(label))}, which ${takers.length === 1 ? 'does' : 'do'} not route${routers.length === 0 ? '' : `; ${listNames(routers.map(label))} has it too`}`,
          at: heldMark(first, "has the gateway's address"),
          others: [...rest, ...routers]
            .map((held) => heldMark(held))
            .concat(mark(vlan, `gateway of VLAN ${vlan.name}`, key)),
          onAir:
            'boxes send what should leave the VLAN to one that throws it away: control from other VLANs is gone, or comes and goes while the router is on too',
          fix: `give ${takers.length === 1 ? 'it' : 'them'} another address${free === undefined ? '' : `, such as ${formatAddress(free)}`}${routers.length === 0 && takers.length === 1 ? '; if it is the router, write `routes: true` at the device' : ''}`,
          touch: touchOfOwner(first.owner),
        };
      }
    }
  },
});
