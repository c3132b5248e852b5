import { createEditList, likely, removeEntry } from '../../../src/doors/cures.js';
import { commonPractice, defineRule, mark } from '../../../src/doors/rule.js';
import { unusedNetworks } from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unused-network',
  summary: 'A network that nothing refers to',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['networkMembers'],
  brief: 'unused',
  harm: 'paper',
  *check({ plan }) {
    for (const network of unusedNetworks(plan)) {
      yield {
        subject: `network ${network.name}${plan.rigs.length > 1 ? ` of ${network.rig.name}` : ''}`,
        parties: [network.name],
        cure: () => {
          const edits = createEditList();
          removeEntry(edits, network, 'networks');
          return likely(edits);
        },
        facts: { network: network.name },
        at: mark(network, `network ${network.name}`, 'name'),
        touch: { kind: 'network', name: network.name },
      };
    }
  },
  words,
});
