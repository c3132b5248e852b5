import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  forwards,
  gatewaysOf,
  heldLabel,
  heldMark,
  listNames,
  mark,
  touchOfOwner,
  vlanSubject,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'subnets/gateway-taken',
  summary: 'A box that does not route has the gateway address of its VLAN',
  severity: 'error',
  sources: [clause('RFC 1122', '3.3.1.2'), clause('RFC 5227', '1')],
  needs: ['addresses', 'gateways'],
  *check({ plan, model }) {
    for (const vlan of plan.vlans) {
      for (const { address, key } of gatewaysOf(vlan)) {
        const holders = (model.addressing.byVlan.get(vlan) ?? []).filter((held) => held.address === address);
        const takers = byLabel(
          holders.filter(({ owner }) => !forwards(owner)),
          heldLabel,
        );
        const [first, ...rest] = takers;
        if (first === undefined) continue;
        const routers = byLabel(
          holders.filter(({ owner }) => forwards(owner)),
          heldLabel,
        );
        const free = model.proposals.address(vlan, address, first.owner);
        const text = formatAddress(address);
        yield {
          subject: `${text} in ${vlanSubject(vlan)}`,
          parties: [vlan.name, ...holders.map(heldLabel)],
          what: `${text}, the gateway of VLAN ${vlan.name}, is on ${listNames(takers.map(heldLabel))}, which ${takers.length === 1 ? 'does' : 'do'} not route${routers.length === 0 ? '' : `; ${listNames(routers.map(heldLabel))} has it too`}`,
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
