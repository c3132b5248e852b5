import { commonPractice, defineRule, likelyMeant, mark, usedNetworks } from '../../../src/lint/rule.js';

export default defineRule({
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
        what: `nothing in the plan is on network ${network.name}: no VLAN, host or stream`,
        at: mark(network, `network ${network.name}`, 'name'),
        onAir:
          'nothing by itself; where a VLAN should name the network and does not, rules on red and blue do not see it',
        fix: 'name it in the VLANs that belong to it, or take it out',
        touch: { kind: 'network', name: network.name },
      };
    }
  },
});
