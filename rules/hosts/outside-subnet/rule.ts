import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  heldLabel,
  heldMark,
  heldSubject,
  inPrefix,
  isIPv4,
  listNames,
  mark,
  networkOf,
  rigOf,
  subnetFor,
  subnetKey,
  touchOfOwner,
  vlanOfAddress,
  vlanSubject,
  type Address,
  type WordedDraft,
  type Held,
  type Mark,
  type Prefix,
  type SubnetFit,
  type Vlan,
} from '../../../src/lint/rule.js';

const IPV4 = [clause('RFC 1122', '3.3.1.1')];
const IPV6 = [clause('RFC 4861', '5.2')];

export default defineRule({
  id: 'hosts/outside-subnet',
  summary: 'An address lies outside the subnet of its VLAN',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['addresses', 'subnets'],
  *check({ plan, model }) {
    const vlanOf = vlanOfAddress(plan.vlans);
    for (const fit of model.addressing.fits.values()) {
      const { vlan, subnet, outvotedBy } = fit;
      if (outvotedBy !== undefined && outvotedBy.prefix.length === subnet.length) yield vlanIsWrong(fit, outvotedBy);
      for (const held of byLabel(fit.odd, heldLabel)) {
        if (inPrefix(held.address, subnet)) continue; // hosts/prefix-differs
        const home = vlanOf(rigOf(held.owner), held.address);
        const free = model.proposals.address(vlan, beforeTwin(held.address, subnet));
        yield {
          subject: heldSubject(held),
          parties: [heldLabel(held), vlan.name, ...(home === undefined ? [] : [home.name])],
          what: `${formatAddress(held.address)} of ${heldLabel(held)} is not in ${formatPrefix(subnet)}, the subnet of its VLAN ${vlan.name}${home === undefined ? '' : `; it lies in ${whose(home, held)}`}`,
          at: heldMark(held, `not in ${formatPrefix(subnet)}`),
          others: [mark(vlan, `VLAN ${vlan.name}`, fit.key), ...(home === undefined ? [] : [homeMark(home, held)])],
          onAir:
            'nothing in the VLAN answers it by unicast: no control, no PTP by unicast, and receivers drop its stream where they check the way back to the source',
          fix:
            home === undefined || home === vlan
              ? `give it an address in ${formatPrefix(subnet)}${free === undefined ? '' : `, such as ${formatAddress(free)}`}`
              : `if it belongs in ${home.name}, write that VLAN and patch it there; if not, give it an address in ${formatPrefix(subnet)}${free === undefined ? '' : `, such as ${formatAddress(free)}`}`,
          touch: touchOfOwner(held.owner),
          sources: isIPv4(held.address) ? IPV4 : IPV6,
        };
      }
    }

    function vlanIsWrong(fit: SubnetFit, outvotedBy: NonNullable<SubnetFit['outvotedBy']>): WordedDraft {
      const { vlan, subnet } = fit;
      const held = byLabel(outvotedBy.held, heldLabel);
      const names = held.map(heldLabel);
      const [first] = held;
      const home = first === undefined ? undefined : vlanOf(rigOf(first.owner), first.address);
      const theirs = formatPrefix(outvotedBy.prefix);
      return {
        subject: `${vlanSubject(vlan)}, ${formatPrefix(subnet)}`,
        parties: [...names, vlan.name],
        what: `VLAN ${vlan.name} says ${formatPrefix(subnet)}, but ${held.length} of its ${held.length + fit.fitting + fit.odd.length} addresses lie in ${theirs}${home === undefined ? '' : `, the subnet of VLAN ${home.name}`}: ${listNames(names)}`,
        at: mark(
          vlan,
          `VLAN ${vlan.name}: ${home === undefined ? `should this be ${theirs}?` : 'is this the right VLAN for them?'}`,
          fit.key,
        ),
        others: held.map((one) => heldMark(one)),
        onAir:
          'whoever sets up gateways and switches from the VLAN and boxes from their addresses builds two networks: no control, no unicast, no way back to the sources',
        fix:
          home === undefined
            ? `write ${theirs} in VLAN ${vlan.name} if the boxes are right; else give them addresses in ${formatPrefix(subnet)}`
            : `put the boxes in VLAN ${home.name} if that is where they are; else give them addresses in ${formatPrefix(subnet)}`,
        touch: { kind: 'vlan', name: vlan.name },
        sources: isIPv4(subnet.network) ? IPV4 : IPV6,
      };
    }
  },
});

/** The address before the one with the same last part in this subnet, which is most likely meant. */
function beforeTwin(address: Address, { network, length }: Prefix): Address {
  const base = networkOf(address, length);
  if (typeof address === 'number') return Number(network) + address - Number(base) - 1;
  return BigInt(network) + address - BigInt(base) - 1n;
}

function homeMark(home: Vlan, held: Held): Mark {
  const subnet = subnetFor(home, held.address);
  return mark(home, `VLAN ${home.name}`, subnet === undefined ? undefined : subnetKey(home, subnet));
}

function whose(home: Vlan, held: Held): string {
  const subnet = subnetFor(home, held.address);
  return `${subnet === undefined ? 'a subnet' : formatPrefix(subnet)}, the subnet of VLAN ${home.name}`;
}
