import { byLabel, clause, defineRule, legLabel, mark, noted, segmentSubject } from '../../../src/doors/rule.js';
import { createFillsPorts, floodedBystanders, PORT_SHARE } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/switch-not-snooping',
  summary: 'One switch does not snoop, so its hosts get every stream that passes it',
  severity: 'warning',
  sources: [clause('RFC 4541', '1'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'switchPorts'],
  *check({ plan, model, thresholdElsewhere }) {
    if (plan.switches.every(({ snooping }) => snooping !== false)) return;
    const fillsPorts = createFillsPorts(model, (rig) => thresholdElsewhere(PORT_SHARE, rig));
    for (const segment of model.groupSegments) {
      const { domain, forwarding, protocol } = segment;
      const off = forwarding?.segment.nodes.filter(({ snooping }) => snooping === false) ?? [];
      const [first, ...rest] = byLabel(off, ({ name }) => name);
      if (forwarding === undefined || first === undefined || segment.snooping === false) continue;
      if (fillsPorts(forwarding)) continue;
      const flooded = floodedBystanders(
        forwarding,
        segment.flows,
        'snooping off',
        (leg) => model.rates.onWire(leg)?.onPort,
      );
      if (flooded.hosts.length === 0) continue;
      const legs = byLabel(flooded.legs, legLabel);
      yield {
        subject: segmentSubject(segment),
        parties: [...domain.vlans.map(({ name }) => name), ...off.map(({ name }) => name)],
        facts: {
          protocol,
          where: domain.title,
          switches: [first, ...rest],
          legs,
          mostBps: Math.max(...flooded.hosts.map(({ floodBps }) => floodBps)),
          slowest: flooded.slowest,
        },
        at: noted(mark(first, first.name, 'snooping'), 'off'),
        others: rest.map((one) => noted(mark(one, one.name, 'snooping'), 'off')),
        touch: { kind: 'switch', name: first.name },
      };
    }
  },
  words,
});
