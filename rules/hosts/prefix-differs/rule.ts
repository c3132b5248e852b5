import { certainly, createEditList, likely, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatPrefix,
  heldFact,
  heldLabel,
  heldMark,
  inPrefix,
  mark,
  noted,
  touchOfOwner,
  vlanSubject,
  type FindingDraft,
  formatAddress,
  type Model,
} from '../../../src/doors/rule.js';
import { heldSubject, votesOn, type SubnetFit } from '../../../src/doors/hosts.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'hosts/prefix-differs',
  summary: "The prefix length of an address differs from its VLAN's",
  severity: 'error',
  sources: [clause('RFC 1122', '3.3.1.1'), clause('RFC 950', '2.2'), clause('RFC 5942', '4')],
  needs: ['addresses', 'subnets', 'prefixLengths'],
  brief: 'prefix length differs',
  harm: 'unicast',
  *check({ model }) {
    for (const fit of model.addressing.fits.values()) {
      const { vlan, subnet, outvotedBy } = fit;
      if (outvotedBy !== undefined && outvotedBy.prefix.length !== subnet.length)
        yield vlanIsWrong(fit, outvotedBy, model);
      for (const held of byLabel(fit.odd, heldLabel)) {
        const { prefixLength } = held;
        if (prefixLength === undefined || prefixLength === subnet.length || !inPrefix(held.address, subnet)) continue;
        yield {
          subject: heldSubject(held),
          parties: [heldLabel(held), vlan.name],
          cure: () => {
            const edits = createEditList();
            edits.set(held.owner, held.key, `${formatAddress(held.address)}/${subnet.length}`);
            return certainly(edits);
          },
          facts: {
            form: 'address',
            ...heldFact(held),
            prefixLength,
            vlan,
            subnet: formatPrefix(subnet),
            subnetLength: subnet.length,
          },
          at: heldMark(held, { says: 'lengths' }),
          others: [mark(vlan, `VLAN ${vlan.name}`, fit.key)],
          touch: touchOfOwner(held.owner),
        };
      }
    }
  },
  words,
});

/** Most addresses agree on another length: a sign that the VLAN's is a slip. */
function vlanIsWrong(
  fit: SubnetFit,
  outvotedBy: NonNullable<SubnetFit['outvotedBy']>,
  model: Model,
): FindingDraft<Facts, Note> {
  const { vlan, subnet } = fit;
  const held = byLabel(outvotedBy.held, heldLabel);
  const holders = held.map(heldLabel);
  const { prefix } = outvotedBy;
  return {
    subject: `${vlanSubject(vlan)}, ${formatPrefix(subnet)}`,
    parties: [...holders, vlan.name],
    confidence: 'likely',
    cure: () => vlanCure(fit, outvotedBy, model),
    facts: {
      form: 'vlan',
      vlan,
      subnet: formatPrefix(subnet),
      subnetLength: subnet.length,
      holders,
      addresses: votesOn(fit),
      theirs: formatPrefix(prefix),
      theirLength: prefix.length,
    },
    at: noted(mark(vlan, `VLAN ${vlan.name}`, fit.key), { says: 'doubt' }),
    others: held.map((one) => heldMark(one, { says: 'length', length: one.prefixLength ?? prefix.length })),
    touch: { kind: 'vlan', name: vlan.name },
  };
}

/** The VLAN takes the length its boxes have where that holds them all and its gateway; else the boxes take the VLAN's. */
function vlanCure(
  { vlan, subnet, key, odd }: SubnetFit,
  { prefix }: NonNullable<SubnetFit['outvotedBy']>,
  { addressing }: Model,
): Cure {
  const edits = createEditList();
  const held = (addressing.byVlan.get(vlan) ?? []).filter(({ address }) => inPrefix(address, subnet));
  const stated = [vlan.gateway, vlan.gateway6, vlan.dhcp?.first, vlan.dhcp?.last].filter(
    (address) => address !== undefined && typeof address === typeof prefix.network,
  );
  const holds = [...held.map(({ address }) => address), ...stated].every(
    (address) => address === undefined || inPrefix(address, prefix),
  );
  if (holds) edits.set(vlan, key, formatPrefix(prefix));
  else for (const one of odd) edits.set(one.owner, one.key, `${formatAddress(one.address)}/${subnet.length}`);
  return likely(edits);
}
