import { createEditList, certainly, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  groupBy,
  inRig,
  isIPv4,
  mapAll,
  mark,
  noted,
  type Plan,
  type Prefix,
  type Vlan,
} from '../../../src/doors/rule.js';
import { isSourceSpecific, type RendezvousPoint } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/rendezvous-point-range',
  summary: 'A rendezvous point is set for source-specific groups',
  severity: 'warning',
  sources: [clause('RFC 4608', '2.4'), clause('RFC 4607', '5.2')],
  needs: ['rendezvousPoints'],
  brief: 'rendezvous point nobody asks',
  harm: 'later',
  *check({ plan }) {
    for (const [subject, unsorted] of groupBy(faulty(plan), subjectOf)) {
      const entries = byLabel(unsorted, ({ vlan }) => vlan.name);
      const vlans = entries.map(({ vlan }) => vlan);
      const [first, ...rest] = mapAll(entries, ({ point, vlan, ranges }) =>
        noted(mark(point, `VLAN ${vlan.name}`, 'groups'), { ranges }),
      );
      yield {
        subject,
        parties: vlans.map(({ name }) => name),
        cure: () => {
          const edits = createEditList();
          for (const { point } of entries) {
            const kept = (point.groups ?? []).filter((one) => !isInside(one));
            if (kept.length === 0) return peopleDecide('which groups the rendezvous point serves');
            edits.set(point, 'groups', kept.map(formatPrefix));
          }
          return certainly(edits);
        },
        facts: {
          point: formatAddress(entries[0].point.address),
          vlans,
          ranges: byLabel([...new Set(entries.flatMap(({ ranges }) => ranges))], (one) => one),
        },
        at: first,
        others: rest,
        touch: { kind: 'vlan', name: entries[0].vlan.name },
      };
    }
  },
  words,
});

interface Entry {
  readonly point: RendezvousPoint;
  readonly vlan: Vlan;
  readonly ranges: readonly string[];
}

function faulty(plan: Plan): readonly Entry[] {
  return plan.vlans.flatMap((vlan) =>
    (vlan.routing?.rendezvousPoints ?? []).flatMap((point): readonly Entry[] => {
      const ranges = (point.groups ?? []).filter(isInside).map(formatPrefix);
      return ranges.length === 0 ? [] : [{ point, vlan, ranges }];
    }),
  );
}

function subjectOf({ point, vlan }: Entry): string {
  return `${formatAddress(point.address)}${inRig(vlan.rig)}`;
}

/** 224.0.0.0/4, which takes in 232.0.0.0/8 by the way, is tolerated (RFC 4608 §2.4); a block inside it is not. */
function isInside(prefix: Prefix): boolean {
  return isSourceSpecific(prefix.network) && prefix.length >= (isIPv4(prefix.network) ? 8 : 32);
}
