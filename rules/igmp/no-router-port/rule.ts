import {
  byLabel,
  clause,
  commonPractice,
  crossingsOf,
  defineRule,
  groupBy,
  isInterface,
  legLabel,
  listNames,
  mark,
  mayCarry,
  receiverLegLabel,
  type Crossing,
  type Device,
  type Domain,
  type Model,
  type Switch,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'igmp/no-router-port',
  summary: 'No router of a routed VLAN can be reached from the switches where its streams start or end',
  severity: 'error',
  sources: [
    clause('RFC 4541', '2.1.2'),
    clause('RFC 1112', '7.2'),
    commonPractice('a router has a port in every VLAN it routes'),
  ],
  needs: ['groups', 'receivers', 'multicastRouting'],
  *check({ plan, model }) {
    const sides = crossingsOf(plan, model.domains, model.reception).flatMap((one): readonly Side[] => [
      { one, vlan: one.from, domain: one.fromDomain, sends: true },
      { one, vlan: one.to, domain: one.toDomain, sends: false },
    ]);
    for (const [domain, ofDomain] of groupBy(sides, (side) => side.domain)) {
      for (const [vlan, own] of groupBy(ofDomain, (side) => side.vlan)) {
        const apart =
          vlan.routing === undefined || vlan.routing.routers.length === 0
            ? undefined
            : whyApart(vlan, domain, vlan.routing.routers, model);
        if (apart === undefined || vlan.routing === undefined) continue;
        const legs = byLabel([...new Set(own.map(({ one }) => one.leg))], legLabel);
        const takers = byLabel([...new Set(own.map(({ one }) => one.by))], receiverLegLabel);
        const routers = byLabel(
          vlan.routing.routers.map(({ name }) => name),
          (one) => one,
        );
        const sends = own.some((side) => side.sends);
        yield {
          subject: `${domain.key}: ${routers.join(', ')}`,
          parties: [
            ...(domain.switches.length > 0 ? domain.switches.map(({ name }) => name) : [vlan.name]),
            ...legs.map(legLabel),
            ...takers.map(receiverLegLabel),
          ],
          what: `${listNames(routers)} ${routers.length === 1 ? 'is' : 'are'} to route VLAN ${vlan.name}, but ${apart}`,
          at: mark(vlan.routing, `VLAN ${vlan.name}: routed by ${listNames(routers)}`, 'routers'),
          others: sends
            ? legs.map((leg) => mark(leg, legLabel(leg), 'group'))
            : takers.map((leg) => mark(leg, receiverLegLabel(leg), 'interface')),
          onAir: `nothing carries ${listNames(legs.map(legLabel), 4)} ${sends ? 'out of' : 'into'} VLAN ${vlan.name}: ${listNames(takers.map(receiverLegLabel), 4)} ${takers.length === 1 ? 'stays' : 'stay'} dark or silent`,
          fix: `carry VLAN ${vlan.name} to ${listNames(routers)} on the links between, or give ${routers.length === 1 ? 'it' : 'one of them'} an address and a port there`,
          touch: { kind: 'vlan', name: vlan.name },
        };
      }
    }
  },
});

interface Side {
  readonly one: Crossing;
  readonly vlan: Vlan;
  readonly domain: Domain;
  readonly sends: boolean;
}

/** Undefined where a router is there, or nobody can tell. */
function whyApart(vlan: Vlan, domain: Domain, routers: readonly (Switch | Device)[], model: Model): string | undefined {
  const feet = routers.map((router) => footOf(router, vlan, model));
  if (feet.some((foot) => foot === 'unknown' || (foot !== 'none' && foot.includes(domain)))) return undefined;
  const none = feet.every((foot) => foot === 'none');
  const here =
    domain.switches.length === 0
      ? 'where the streams are'
      : listNames(
          byLabel(
            domain.switches.map(({ name }) => name),
            (one) => one,
          ),
          3,
        );
  return none
    ? `${routers.length === 1 ? 'it has no port or address' : 'they have no port or address'} in that VLAN`
    : `no link carries that VLAN from ${here} to it`;
}

/** The parts of the VLAN where a router has a port or an address. */
function footOf(router: Switch | Device, vlan: Vlan, model: Model): readonly Domain[] | 'none' | 'unknown' {
  if (!('ports' in router)) {
    const own = router.interfaces.filter((one) => one.vlan === vlan);
    if (own.length > 0) return own.map((one) => model.domains.switched(one));
    return router.interfaces.length === 0 || router.interfaces.some((one) => one.vlan === undefined)
      ? 'unknown'
      : 'none';
  }
  const part = model.domains.onSwitch(router, vlan);
  const ports = [...router.ports.values()];
  if (holds(router, vlan, model) || ports.some((port) => mayCarry(port, vlan)))
    return part === undefined ? 'unknown' : [part];
  // A switch that states its address in some VLAN states it in each it routes.
  return router.addresses.some((held) => held.vlan !== undefined) ? 'none' : 'unknown';
}

function holds(router: Switch, vlan: Vlan, model: Model): boolean {
  return (model.addressing.byVlan.get(vlan) ?? []).some(({ owner }) => !isInterface(owner) && owner.switch === router);
}
