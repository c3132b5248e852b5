import {
  byLabel,
  clause,
  crossingsOf,
  defineRule,
  formatAddress,
  groupBy,
  legLabel,
  mark,
  noted,
  receiverLegLabel,
  stuckCrossings,
  type Mark,
  type StuckCrossing,
  type Vlan,
} from '../../../src/lint/rule.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/no-rendezvous-point',
  summary: 'An any-source group has to be routed where nothing routes any-source groups',
  severity: 'error',
  sources: [clause('RFC 7761', '3.1'), clause('RFC 4607', '5.2'), clause('RFC 3956', '3')],
  needs: ['groups', 'receivers', 'multicastRouting'],
  *check({ plan, model }) {
    const stuck = stuckCrossings(crossingsOf(plan, model.domains, model.reception), model.domains);
    for (const entries of groupBy(stuck, causeOf).values()) {
      const [{ why, area, culprit }] = entries;
      const vlans = byLabel([...new Set(entries.map((one) => one.culprit))], ({ name }) => name);
      const [vlan = culprit, ...alike] = vlans;
      const legs = byLabel([...new Set(entries.map(({ crossing }) => crossing.leg))], legLabel);
      const takers = byLabel([...new Set(entries.map(({ crossing }) => crossing.by))], receiverLegLabel);
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

/** Per VLAN that routes source-specific groups only, and per area without a rendezvous point. */
function causeOf({ why, culprit, area }: StuckCrossing): string {
  return `${why} ${why === 'sourceSpecificOnly' ? culprit.name : ''} ${area.title}`;
}

function routingMark(vlan: Vlan, why: StuckCrossing['why']): Mark<Note> {
  const key = why === 'sourceSpecificOnly' ? 'mode' : 'rp';
  return noted(mark(vlan.routing ?? vlan, `VLAN ${vlan.name}`, key), 'routing');
}
