import {
  byLabel,
  clause,
  clauseFromMemory,
  defineRule,
  formatAddress,
  legLabel,
  mark,
  noted,
  receiverLegLabel,
  type Mark,
  type Vlan,
} from '../../../src/doors/rule.js';
import { stuckCrossings, type Stuck } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/no-rendezvous-point',
  summary: 'An any-source group has to be routed where nothing routes any-source groups',
  severity: 'error',
  people: 'whether to move the streams to source-specific groups or to set up a rendezvous point',
  sources: [clauseFromMemory('RFC 7761', '3.1'), clause('RFC 4607', '5.2'), clause('RFC 3956', '3')],
  needs: ['groups', 'receivers', 'multicastRouting'],
  brief: 'no rendezvous point',
  explains: ['no rendezvous point'],
  *check({ model }) {
    for (const { why, area, vlans, ...stuck } of stuckCrossings(model.crossings, model.domains)) {
      const [vlan, ...alike] = vlans;
      const legs = byLabel(stuck.legs, legLabel);
      const takers = byLabel(stuck.takers, receiverLegLabel);
      yield {
        subject: `any-source groups in ${why === 'sourceSpecificOnly' ? vlan.name : area.key}`,
        parties: [...legs.map(legLabel), ...takers.map(receiverLegLabel), ...vlans.map(({ name }) => name)],
        facts: {
          form: why,
          vlan,
          legs,
          groups: [...new Set(legs.flatMap(({ group }) => (group === undefined ? [] : [formatAddress(group)])))],
          takers,
        },
        at: routingMark(vlan, why),
        others: [
          ...alike.map((other) => routingMark(other, why)),
          ...legs.map((leg) => mark(leg, legLabel(leg), 'group')),
          ...takers.map((leg) => mark(leg, receiverLegLabel(leg), 'interface')),
        ],
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});

function routingMark(vlan: Vlan, why: Stuck['why']): Mark<Note> {
  const key = why === 'sourceSpecificOnly' ? 'mode' : 'rp';
  return noted(mark(vlan.routing ?? vlan, `VLAN ${vlan.name}`, key), 'routing');
}
