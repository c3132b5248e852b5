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
  listNames,
  mark,
  touchOfOwner,
  vlanSubject,
  type WordedDraft,
  type SubnetFit,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'hosts/prefix-differs',
  summary: "The prefix length of an address differs from its VLAN's",
  severity: 'error',
  sources: [clause('RFC 1122', '3.3.1.1'), clause('RFC 950', '2.2'), clause('RFC 5942', '4')],
  needs: ['addresses', 'subnets', 'prefixLengths'],
  *check({ model }) {
    for (const fit of model.addressing.fits.values()) {
      const { vlan, subnet, outvotedBy } = fit;
      if (outvotedBy !== undefined && outvotedBy.prefix.length !== subnet.length) yield vlanIsWrong(fit, outvotedBy);
      for (const held of byLabel(fit.odd, heldLabel)) {
        const { prefixLength } = held;
        if (prefixLength === undefined || prefixLength === subnet.length || !inPrefix(held.address, subnet)) continue;
        const wide = prefixLength < subnet.length;
        yield {
          subject: heldSubject(held),
          parties: [heldLabel(held), vlan.name],
          what: `${heldLabel(held)} has ${formatAddress(held.address)}/${prefixLength}, but VLAN ${vlan.name} is ${formatPrefix(subnet)}`,
          at: heldMark(held, `/${prefixLength} instead of /${subnet.length}`),
          others: [mark(vlan, `VLAN ${vlan.name}`, fit.key)],
          onAir: wide
            ? 'it looks for boxes of other subnets in its own VLAN and never asks the gateway: they cannot be reached from it'
            : 'it sends to part of its own VLAN by way of the gateway, or not at all where there is none: some boxes can be reached, others not',
          fix: `write ${formatAddress(held.address)}/${subnet.length} and set the same on the box`,
          touch: touchOfOwner(held.owner),
        };
      }
    }
  },
});

function vlanIsWrong(fit: SubnetFit, outvotedBy: NonNullable<SubnetFit['outvotedBy']>): WordedDraft {
  const { vlan, subnet, fitting, odd } = fit;
  const held = byLabel(outvotedBy.held, heldLabel);
  const names = held.map(heldLabel);
  const { prefix } = outvotedBy;
  return {
    subject: `${vlanSubject(vlan)}, ${formatPrefix(subnet)}`,
    parties: [...names, vlan.name],
    what: `VLAN ${vlan.name} says ${formatPrefix(subnet)}, but ${held.length} of its ${held.length + fitting + odd.length} addresses have a /${prefix.length}: ${listNames(names)}`,
    at: mark(vlan, `VLAN ${vlan.name}: should this be a /${prefix.length}?`, fit.key),
    others: held.map((one) => heldMark(one, `/${one.prefixLength ?? prefix.length}`)),
    onAir:
      'boxes and gateway disagree about who is near: where one side sends straight and the other by the gateway, control and unicast work one way only',
    fix:
      prefix.length < subnet.length
        ? `write ${formatPrefix(prefix)} in VLAN ${vlan.name} if the boxes are right; else set them to /${subnet.length}`
        : `make VLAN ${vlan.name} a /${prefix.length} if the boxes are right; else set them to /${subnet.length}`,
    touch: { kind: 'vlan', name: vlan.name },
  };
}
