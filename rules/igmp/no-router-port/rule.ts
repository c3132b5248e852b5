import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  legLabel,
  mark,
  noted,
  receiverLegLabel,
  type Domain,
  type Vlan,
} from '../../../src/doors/rule.js';
import { routersApart, type Crossing } from '../../../src/doors/igmp.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'routers'>({
  id: 'igmp/no-router-port',
  summary: 'No router of a routed VLAN can be reached from the switches where its streams start or end',
  severity: 'error',
  people: 'whether a cable or a setting is missing between the switches and the router',
  sources: [
    clause('RFC 4541', '2.1.2'),
    clause('RFC 1112', '7.2'),
    commonPractice('a router has a port in every VLAN it routes'),
  ],
  needs: ['groups', 'receivers', 'multicastRouting'],
  brief: 'router out of reach',
  *check({ model }) {
    for (const { vlan, domain, own } of sidesOf(model.crossings)) {
      const form = routersApart(vlan, domain, model.domains, model.addressing);
      if (form === undefined || vlan.routing === undefined) continue;
      const legs = byLabel([...new Set(own.map(({ crossing }) => crossing.leg))], legLabel);
      const takers = byLabel([...new Set(own.map(({ crossing }) => crossing.by))], receiverLegLabel);
      const routers = byLabel(vlan.routing.routers, ({ name }) => name);
      const switches = byLabel(domain.switches, ({ name }) => name);
      const sends = own.some((side) => side.sends);
      yield {
        subject: `${domain.key}: ${routers.map(({ name }) => name).join(', ')}`,
        parties: [
          ...(switches.length > 0 ? switches : [vlan]).map(({ name }) => name),
          ...legs.map(legLabel),
          ...takers.map(receiverLegLabel),
        ],
        facts: { form, vlan, routers, switches, sends, legs, takers },
        at: noted(mark(vlan.routing, `VLAN ${vlan.name}`, 'routers'), 'routers'),
        others: sends
          ? legs.map((leg) => mark(leg, legLabel(leg), 'group'))
          : takers.map((leg) => mark(leg, receiverLegLabel(leg), 'interface')),
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});

interface Side {
  readonly crossing: Crossing;
  readonly vlan: Vlan;
  readonly domain: Domain;
  readonly sends: boolean;
}

interface Sides extends Pick<Side, 'vlan' | 'domain'> {
  readonly own: readonly Side[];
}

/** The two sides of each crossing, by the part of a VLAN they are in. */
function sidesOf(crossings: readonly Crossing[]): readonly Sides[] {
  const sides = crossings.flatMap((crossing): readonly Side[] => [
    { crossing, vlan: crossing.from, domain: crossing.fromDomain, sends: true },
    { crossing, vlan: crossing.to, domain: crossing.toDomain, sends: false },
  ]);
  return [...groupBy(sides, (side) => side.domain)].flatMap(([domain, ofDomain]) =>
    [...groupBy(ofDomain, (side) => side.vlan)].map(([vlan, own]) => ({ domain, vlan, own })),
  );
}
