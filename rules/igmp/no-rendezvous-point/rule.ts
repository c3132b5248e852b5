import {
  byLabel,
  clause,
  crossingsOf,
  defineRule,
  embeddedRendezvousPoint6,
  formatAddress,
  groupBy,
  inPrefix,
  isIPv4,
  isSourceSpecific,
  isSourceSpecificFor,
  legLabel,
  listNames,
  mark,
  receiverLegLabel,
  type Address,
  type Crossing,
  type Domain,
  type RendezvousPoint,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'igmp/no-rendezvous-point',
  summary: 'An any-source group has to be routed where nothing routes any-source groups',
  severity: 'error',
  sources: [clause('RFC 7761', '3.1'), clause('RFC 4607', '5.2'), clause('RFC 3956', '3')],
  needs: ['groups', 'receivers', 'multicastRouting'],
  *check({ plan, model }) {
    const faulty = crossingsOf(plan, model.domains, model.reception).filter(
      ({ leg }) => leg.group !== undefined && !isSpecific(leg.group, leg.sender.rig),
    );
    const points = new Map<Domain, readonly RendezvousPoint[]>();
    const pointsIn = (domain: Domain): readonly RendezvousPoint[] => {
      const known = points.get(domain) ?? domain.vlans.flatMap(({ routing }) => routing?.rendezvousPoints ?? []);
      points.set(domain, known);
      return known;
    };
    const stuck = faulty.flatMap((one): readonly Stuck[] => {
      const ssm = [one.from, one.to].find(({ routing }) => routing?.mode === 'pim-ssm');
      if (ssm !== undefined) return [{ one, culprit: ssm, why: 'ssm' }];
      return needsPoint(one) && !isServed(one.leg.group, pointsIn(model.domains.reach(one.leg)))
        ? [{ one, culprit: one.from, why: 'rp' }]
        : [];
    });
    for (const [, entries] of groupBy(
      stuck,
      ({ one, culprit, why }) => `${why} ${why === 'ssm' ? culprit.name : ''} ${model.domains.reach(one.leg).title}`,
    )) {
      const [some] = entries;
      if (some === undefined) continue;
      const vlans = byLabel([...new Set(entries.map(({ culprit }) => culprit))], ({ name }) => name);
      const [vlan] = vlans;
      if (vlan === undefined) continue;
      const legs = byLabel([...new Set(entries.map(({ one }) => one.leg))], legLabel);
      const takers = byLabel([...new Set(entries.map(({ one }) => one.by))], receiverLegLabel);
      const groups = [...new Set(legs.flatMap(({ group }) => (group === undefined ? [] : [formatAddress(group)])))];
      const names = legs.map(legLabel);
      const goes = `${listNames(names, 4)} (${listNames(groups, 4)}) ${names.length === 1 ? 'goes' : 'go'} to ${listNames(takers.map(receiverLegLabel), 4)} in another VLAN`;
      yield {
        subject:
          some.why === 'ssm'
            ? `any-source groups in ${vlan.name}`
            : `any-source groups in ${model.domains.reach(some.one.leg).key}`,
        parties: [...names, ...takers.map(receiverLegLabel), ...vlans.map(({ name }) => name)],
        what:
          some.why === 'ssm'
            ? `${goes}, but VLAN ${vlan.name} routes source-specific groups only (pim-ssm), and ${groups.length === 1 ? 'that group is' : 'those groups are'} any-source`
            : `${goes}, but no rendezvous point is planned for ${groups.length === 1 ? 'that group' : 'those groups'}`,
        at: placeOf(vlan, some.why),
        others: [
          ...vlans.slice(1).map((other) => placeOf(other, some.why)),
          ...legs.map((leg) => mark(leg, legLabel(leg), 'group')),
          ...takers.map((leg) => mark(leg, receiverLegLabel(leg), 'interface')),
        ],
        onAir:
          some.why === 'ssm'
            ? `the routers take no join without a source outside their source-specific range: ${listNames(takers.map(receiverLegLabel), 4)} ${takers.length === 1 ? 'stays' : 'stay'} dark or silent, receivers in the sender's own VLAN are fine`
            : `no router knows where senders and receivers are to meet: ${listNames(takers.map(receiverLegLabel), 4)} ${takers.length === 1 ? 'stays' : 'stay'} dark or silent, receivers in the sender's own VLAN are fine`,
        fix:
          some.why === 'ssm'
            ? 'move those streams to source-specific groups (232.0.0.0/8) and have receivers name the source, or route with `mode: pim-sm` and a rendezvous point'
            : 'name a rendezvous point that serves them under `routing: {rp: …}`, set on every router; or use source-specific groups, which need none',
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
});

interface Stuck {
  readonly one: Crossing;
  readonly culprit: Vlan;
  readonly why: 'ssm' | 'rp';
}

function isSpecific(group: Address, rig: Vlan['rig']): boolean {
  return isSourceSpecificFor(rig, group) || isSourceSpecific(group);
}

/** A receiver that names the source is joined straight to it, without a rendezvous point. */
function needsPoint({ by }: Crossing): boolean {
  return by.join !== 'stated' && (by.source === undefined || by.join === 'any');
}

/** Whether a rendezvous point of the routed area serves the group, or the group carries its own (RFC 3956). */
function isServed(group: Address | undefined, points: readonly RendezvousPoint[]): boolean {
  if (group === undefined || (!isIPv4(group) && embeddedRendezvousPoint6(group) !== undefined)) return true;
  return points.some(
    ({ address, groups }) =>
      isIPv4(address) === isIPv4(group) && (groups === undefined || groups.some((prefix) => inPrefix(group, prefix))),
  );
}

function placeOf(vlan: Vlan, why: 'ssm' | 'rp'): ReturnType<typeof mark> {
  return mark(
    vlan.routing ?? vlan,
    `VLAN ${vlan.name}: ${why === 'ssm' ? 'source-specific routing only' : 'no rendezvous point for them'}`,
    why === 'ssm' ? 'mode' : 'rp',
  );
}
