import { commonPractice, defineRule, likelyMeant, mark, usedNetworks } from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/unused-network',
  summary: 'A network that nothing refers to',
  severity: 'note',
  sources: [commonPractice('a plan holds what is built')],
  needs: ['networkMembers'],
  *check({ plan }) {
    const used = usedNetworks(plan);
    const meant = likelyMeant(plan.unresolved, 'network');
    const names = new Set([...used].map((network) => network.name));
    for (const network of plan.networks) {
      if (used.has(network) || meant.has(network.name) || names.has(network.name)) continue;
      yield {
        subject: `network ${network.name}${plan.rigs.length > 1 ? ` of ${network.rig.name}` : ''}`,
        parties: [network.name],
        facts: { network },
        at: mark(network, `network ${network.name}`, 'name'),
        touch: { kind: 'network', name: network.name },
      };
    }
  },
  words,
});
