import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  apartRouters,
  byLabel,
  clause,
  clauseFromMemory,
  commonPractice,
  defineRule,
  isNonEmpty,
  legLabel,
  mapAll,
  mark,
  noted,
  receiverLegLabel,
  type Interface,
  type Leg,
  type Model,
  type ReceiverLeg,
  type Vlan,
} from '../../../src/doors/rule.js';
import { unroutedPairs, placeOf } from '../../../src/doors/vlans.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'vlans/not-routed',
  summary: 'A receiver takes a stream from a VLAN that nothing routes to its own',
  severity: 'error',
  sources: [
    clause('RFC 1112', '7.2'),
    clauseFromMemory('IEEE 802.1Q-2022', '8.6'),
    commonPractice('multicast leaves its VLAN through a multicast router only'),
  ],
  needs: ['groups', 'receivers', 'interfaceVlans'],
  brief: 'not routed to the receiver',
  explains: ['not routed'],
  *check({ plan, model }) {
    const routed = plan.vlans.some((vlan) => vlan.routing !== undefined);
    // The kind that sends it on the wrong network is `groups/outside-conventions`'s to name.
    let strays: ReadonlySet<Leg> | undefined;
    const pairs = unroutedPairs(
      plan,
      model.domains,
      () =>
        (strays ??= new Set([
          ...model.strays.kinds.flatMap(({ legs }) => legs),
          ...model.strays.alone.filter((leg) => model.strays.meant(leg) !== undefined),
        ])),
    );
    // Where both are routed and the routers do not meet, that is one fault for all VLANs behind them.
    const apart = new Set(
      pairs.length === 0
        ? []
        : apartRouters(plan, model.network, model.routedReceptions).flatMap(({ takers }) => takers),
    );
    for (const { from, to, ...pair } of pairs) {
      const takers = byLabel(
        [...pair.takers].filter((taker) => !apart.has(taker) && !meetsAtHome(taker, model)),
        receiverLegLabel,
      );
      const taken = new Set(takers.map(({ takes }) => takes));
      const legs = byLabel(
        [...pair.legs].filter((leg) => taken.has(leg)),
        legLabel,
      );
      if (!isNonEmpty(takers)) continue;
      const name = ({ name: own, rig }: Vlan): string => (from.rig === to.rig ? own : `${own} of ${rig.name}`);
      const unrouted = [from, to].filter(({ routing }) => routing === undefined || routing.mode === 'none');
      const [at, ...rest] = mapAll(takers, (leg) => noted(mark(leg, receiverLegLabel(leg), 'interface'), { vlan: to }));
      yield {
        subject: `${name(from)} to ${name(to)}`,
        parties: [...legs.map(legLabel), ...takers.map(receiverLegLabel)],
        severity: routed ? 'error' : 'warning',
        confidence: routed ? 'certain' : 'assumed',
        cure: () => {
          const found = interfacesIn(from, takers);
          const edits = createEditList();
          for (const leg of found.length === 0 ? [] : takers) {
            const via = leg.receiver.device.interfaces.find((one) => one.vlan === from);
            if (via === undefined) continue;
            if (leg.origin.container !== leg.receiver.origin.container)
              edits.setWhereWritten(leg, 'interface', via.name);
            else {
              const { key, ...place } = placeOf(leg.receiver, 'interfaces', leg.index);
              if (key !== undefined) edits.put({ ...place, key }, via.name);
            }
          }
          return likely(edits, 'whether the VLANs are to be routed');
        },
        facts: {
          form: !routed ? 'notStated' : unrouted.length === 0 ? 'noRouter' : 'notPlanned',
          from,
          to,
          unrouted: byLabel(unrouted, (vlan) => vlan.name),
          legs,
          takers,
          interfaces: interfacesIn(from, takers),
        },
        at,
        others: [...rest, ...legs.map((leg) => noted(mark(leg, legLabel(leg), 'group'), { vlan: from }))],
        touch: { kind: 'device', name: takers[0].receiver.device.name },
      };
    }
  },
  words,
});

/** The interface each receiving device already has in a VLAN; none where one has not. */
function interfacesIn(vlan: Vlan, takers: readonly ReceiverLeg[]): readonly Interface[] {
  const devices = [...new Set(takers.map(({ receiver }) => receiver.device))];
  const found = devices.flatMap(({ interfaces }) => interfaces.find((one) => one.vlan === vlan) ?? []);
  return found.length < devices.length ? [] : found;
}

/** Written in the wrong VLAN, which `hosts/wrong-vlan` says, and heard where it belongs. */
function meetsAtHome(taker: ReceiverLeg, { domains, wrongVlans }: Model): boolean {
  const { takes } = taker;
  const legs = takes === undefined ? [] : [takes, taker];
  const homes = legs.map(({ interface: via }) => (via === undefined ? undefined : wrongVlans.of(via)?.home));
  if (homes.every((home) => home === undefined)) return false;
  const [from, to] = legs.map((leg, index) => {
    const { vlan, network } = leg;
    const home = homes[index];
    return domains.reach({
      interface: leg.interface,
      index: leg.index,
      ...(home === undefined ? { vlan, network } : { vlan: home, network: home.network }),
    });
  });
  return from === to;
}
