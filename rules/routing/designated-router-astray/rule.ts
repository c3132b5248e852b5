import { createEditList, likely } from '../../../src/doors/cures.js';
import { byLabel, clause, defineRule, legLabel, mark, noted, receiverLegLabel } from '../../../src/doors/rule.js';
import { astrayDesignated } from '../../../src/doors/routing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'routing/designated-router-astray',
  summary: 'The designated router of a VLAN gets its streams over that VLAN itself',
  severity: 'warning',
  sources: [clause('RFC 7761', '4.3.2'), clause('RFC 7761', '4.2')],
  needs: ['groups', 'receivers', 'multicastRouting', 'switchPorts'],
  brief: 'router fed over its own VLAN',
  harm: 'spoils',
  *check({ model }) {
    for (const { vlan, designated, sending, sure, legs, takers } of byLabel(
      astrayDesignated(model.routedReceptions),
      (one) => one.vlan.name,
    )) {
      const streams = byLabel(legs, legLabel);
      const receivers = byLabel(takers, receiverLegLabel);
      yield {
        subject: `${designated.name} in ${vlan.name}`,
        parties: [designated.name, vlan.name, ...streams.map(legLabel), ...receivers.map(receiverLegLabel)],
        confidence: sure ? 'likely' : 'assumed',
        cure: () => {
          const edits = createEditList();
          if (vlan.routing !== undefined)
            edits.append(vlan.routing, 'interfaces', { on: designated.name, priority: 0 });
          return likely(edits, 'which router is to serve the VLAN');
        },
        facts: { vlan, designated, sending, legs: streams, takers: receivers },
        at: noted(mark(vlan.routing ?? vlan, `VLAN ${vlan.name}`, 'routers'), 'routing'),
        others: receivers.map((leg) => mark(leg, receiverLegLabel(leg), 'interface')),
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});
