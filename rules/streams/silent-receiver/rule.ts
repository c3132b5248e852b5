import {
  byLabel,
  clause,
  commonPractice,
  createFillsPorts,
  defineRule,
  legLabel,
  mark,
  noted,
  ownerLabel,
  PORT_SHARE,
} from '../../../src/doors/rule.js';
import { silentFloods } from '../../../src/doors/streams.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'streams/silent-receiver',
  summary: 'A unicast stream is flooded because its receiver never speaks',
  severity: 'warning',
  confidence: 'likely',
  people: 'how the box is made to speak, which is set at the box',
  sources: [
    clause('IEEE 802.1D-2004', '7.9.2'),
    commonPractice(
      'a host that never sends is forgotten after the ageing time, 300 s unless set (IEEE 802.1D-2004 table 7-5)',
    ),
  ],
  needs: ['unicast', 'switchPorts'],
  brief: 'flooded to a silent receiver',
  harm: 'later',
  *check({ plan, model, thresholdElsewhere }) {
    const floods = silentFloods(plan, model.network, ({ leg }) => model.rates.onWire(leg));
    if (floods.length === 0) return;
    const fillsPorts = createFillsPorts(model, (rig) => thresholdElsewhere(PORT_SHARE, rig));
    for (const { host, forwarding, legs: unordered, rateBps, unrated, slowest, ...flood } of floods) {
      if (fillsPorts(forwarding)) continue;
      const legs = byLabel(unordered, legLabel);
      const name = ownerLabel(host);
      yield {
        subject: name,
        parties: [name, ...legs.map(legLabel)],
        facts: {
          host,
          vlans: forwarding.segment.domain.vlans,
          legs,
          rateBps,
          unrated,
          bystanders: byLabel(flood.bystanders, ownerLabel),
          slowest: slowest === undefined ? undefined : { name: ownerLabel(slowest.host), rateBps: slowest.rateBps },
        },
        at: noted(mark(host, name, 'silent'), 'silent'),
        others: legs.map((leg) => noted(mark(leg, legLabel(leg), 'unicast'), 'sent here')),
        touch: { kind: 'device', name: host.device.name },
      };
    }
  },
  words,
});
