import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatRange,
  lastOf,
  mark,
  noted,
  sharedVlans,
  withRig,
  type Mark,
} from '../../../src/doors/rule.js';
import {
  commonRange,
  mayBeOneServer,
  overlappingRanges,
  rangeWithout,
  type DhcpEntry,
} from '../../../src/doors/subnets.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'subnets/dhcp-ranges-overlap',
  summary: 'Two DHCP servers of one VLAN hand out the same addresses',
  severity: 'error',
  sources: [clause('RFC 2131', '2.2'), clause('RFC 2131', '3.1'), clause('RFC 5227', '1')],
  needs: ['dhcp'],
  brief: 'two DHCP servers, same addresses',
  harm: 'later',
  *check({ plan, model }) {
    if (plan.rigs.length < 2) return;
    const clusters = sharedVlans({ vlans: plan.vlans, domains: model.domains }).flatMap(overlappingRanges);
    for (const cluster of clusters) {
      const sorted = byLabel(cluster, ({ vlan }) => withRig(vlan));
      const last = lastOf(sorted);
      const others = sorted.filter((one) => one !== last);
      const names = sorted.map(({ vlan }) => withRig(vlan));
      const common = commonRange(sorted);
      const rest = rangeWithout(
        last.dhcp,
        others.map(({ dhcp }) => dhcp),
      );
      const oneServer = mayBeOneServer(sorted);
      yield {
        subject: names.join(', '),
        parties: names,
        severity: oneServer ? 'warning' : 'error',
        ...(oneServer ? { confidence: 'likely' } : {}),
        cure: () => {
          const edits = createEditList();
          if (rest !== undefined) edits.set(last.vlan, 'dhcp', formatRange(rest));
          return likely(edits, 'which of the servers is to hand out addresses while the rigs are joined');
        },
        facts: {
          vlans: names,
          ranges: sorted.map(({ dhcp }) => formatRange(dhcp)),
          oneServer,
          common:
            common === undefined
              ? undefined
              : common.first === common.last
                ? formatAddress(common.first)
                : formatRange(common),
          change: withRig(last.vlan),
          rest: rest === undefined ? undefined : formatRange(rest),
        },
        at: rangeMark(last),
        others: others.map(rangeMark),
        touch: { kind: 'vlan', name: last.vlan.name },
      };
    }
  },
  words,
});

function rangeMark({ vlan, dhcp }: DhcpEntry): Mark<string> {
  return noted(mark(vlan, `VLAN ${withRig(vlan)}`, 'dhcp'), formatRange(dhcp));
}
