import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  groupBy,
  inRig,
  isIPv4,
  isSourceSpecific,
  listNames,
  mark,
  type Mark,
  type Prefix,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'igmp/rendezvous-point-range',
  summary: 'A rendezvous point is set for source-specific groups',
  severity: 'warning',
  sources: [clause('RFC 4608', '2.4'), clause('RFC 4607', '5.2')],
  needs: ['rendezvousPoints'],
  *check({ plan }) {
    const found: {
      readonly key: string;
      readonly name: string;
      readonly point: string;
      readonly vlan: string;
      readonly ranges: readonly Prefix[];
      readonly mark: Mark;
    }[] = [];
    for (const vlan of plan.vlans) {
      for (const one of vlan.routing?.rendezvousPoints ?? []) {
        const ranges = (one.groups ?? []).filter(isInside);
        if (ranges.length === 0) continue;
        const point = formatAddress(one.address);
        found.push({
          key: `${point}${inRig(vlan.rig)}`,
          name: vlan.name,
          point,
          vlan: vlan.name,
          ranges,
          mark: mark(one, `VLAN ${vlan.name}: ${listNames(ranges.map(formatPrefix))}`, 'groups'),
        });
      }
    }
    for (const [subject, unsorted] of groupBy(found, ({ key }) => key)) {
      const entries = byLabel(unsorted, ({ name }) => name);
      const [first, ...rest] = entries;
      if (first === undefined) continue;
      const ranges = byLabel([...new Set(entries.flatMap((one) => one.ranges.map(formatPrefix)))], (one) => one);
      const vlans = entries.map(({ vlan }) => vlan);
      yield {
        subject,
        parties: vlans,
        what: `rendezvous point ${first.point} of ${vlans.length === 1 ? 'VLAN' : 'VLANs'} ${listNames(vlans)} serves ${listNames(ranges)}, which ${ranges.length === 1 ? 'is' : 'are'} source-specific`,
        at: first.mark,
        others: rest.map((one) => one.mark),
        onAir:
          "joins without a source, which should be refused, may be taken: a receiver set up wrongly works in the yard and is dark behind the next router, and anybody's packets to the group get through",
        fix: `take ${listNames(ranges)} out of its groups; source-specific groups need no rendezvous point`,
        touch: { kind: 'vlan', name: first.vlan },
      };
    }
  },
});

/** 224.0.0.0/4, which takes in 232.0.0.0/8 by the way, is tolerated (RFC 4608 §2.4); a block inside it is not. */
function isInside(prefix: Prefix): boolean {
  return isSourceSpecific(prefix.network) && prefix.length >= (isIPv4(prefix.network) ? 8 : 32);
}
