import {
  clause,
  commonPractice,
  defineRule,
  linkDifference,
  linkEnds,
  linkLabel,
  mark,
  portLabel,
  type KnownEnd,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'links/native-differs',
  summary: 'The two ends of a link send different VLANs without a tag',
  severity: 'error',
  sources: [clause('IEEE 802.1Q-2022', '6.9'), commonPractice('the native VLAN is the same at both ends of a link')],
  needs: ['links', 'portVlans'],
  *check({ plan }) {
    for (const link of plan.links) {
      const difference = linkDifference(link);
      if (difference?.untagged === undefined) continue;
      const [a, b] = difference.ends;
      const [here, there] = difference.untagged;
      const label = linkLabel(link);
      const lost = here === undefined || there === undefined;
      const only = here ?? there;
      yield {
        subject: linkEnds(link),
        parties: [
          portLabel(a.port),
          portLabel(b.port),
          ...[here, there].flatMap((vlan) => (vlan === undefined ? [] : [vlan.name])),
        ],
        what: `without a tag, ${says(a, here)} and ${says(b, there)}, on link ${label}`,
        at: at(a, here),
        others: [at(b, there)],
        onAir: lost
          ? `what one end sends without a tag the other drops: nothing in ${only?.name ?? ''} gets over this link`
          : `the link joins the two VLANs: hosts of ${here.name} and ${there.name} hear each other's groups and DHCP answers, and neither VLAN gets over the link to itself`,
        fix: lost
          ? `carry ${only?.name ?? ''} the same way at both ends, tagged or as the native or access VLAN`
          : `set both ends to one VLAN: ${here.name} or ${there.name}`,
        touch: { kind: 'link', name: label },
      };
    }
  },
});

function says(end: KnownEnd, vlan: Vlan | undefined): string {
  return `${portLabel(end.port)} carries ${vlan === undefined ? 'nothing' : vlan.name}`;
}

function at(end: KnownEnd, vlan: Vlan | undefined): ReturnType<typeof mark> {
  const { port } = end;
  const how =
    vlan === undefined
      ? 'tagged only'
      : port.access === vlan
        ? `access port of ${vlan.name}`
        : `native VLAN ${vlan.name}`;
  return mark(
    port,
    `${portLabel(port)}: ${how}`,
    vlan === undefined ? 'trunk' : port.access === vlan ? 'access' : 'native',
  );
}
