/** A plan as what the driver is asked to build and do, on either forwarding plane. */
import type { Interface, Leg, Plan, ReceiverLeg } from '../../src/plan/types.js';
import type { Address } from '../../src/values/address.js';
import { bridgesOf } from './bridges.js';
import type { Plane } from './rigs.js';
import { hostName, textOf, type BenchSpec, type Extras, type StepSpec } from './spec.js';
import { otherQuerierPresentS } from './timers.js';
import { isLooped, vswitchOf } from './vswitch.js';

/** The bench of a plan: it speaks, joins, waits until reports and elections are through, and sends once. */
export function benchOf(plan: Plan, extras: Extras = {}, plane: Plane = 'bridges'): BenchSpec {
  const fabric = plane === 'bridges' ? bridgesOf(plan, extras) : vswitchOf(plan);
  const hosts = plan.interfaces.map((one) => ({
    ...fabric.portOf(one),
    name: hostName(one),
    address: textOf(one.address),
    address6: one.address6 === undefined ? undefined : textOf(one.address6),
    igmpVersion: extras.hostVersions?.[hostName(one)] ?? one.igmpVersion,
    mldVersion: one.mldVersion,
  }));
  return {
    ...fabric,
    plane,
    hosts,
    streams: plan.legs.map((leg) => ({ host: hostName(interfaceOf(leg)), group: textOf(leg.group) })),
    steps: [
      ...speakSteps(plan),
      ...waitSteps(extras.joinAfterS),
      ...joinSteps(plan),
      ...(extras.settleS === undefined ? settleSteps(plan, plane) : waitSteps(extras.settleS)),
      { do: 'send' },
      ...(extras.then ?? []),
    ],
  };
}

/** Seconds in which bridges agree on a tree, on a busy machine. */
const TREE_S = 2;

/** Seconds in which one query at least has come and every host has answered it. */
const ANSWERED_S = 1.6;

/**
 * Until a querier that lost the election is forgotten and the winner has asked again; and in any case until the kernel has
 * noticed that a port has a carrier, which it looks for once a second.
 *
 * Open vSwitch forgets router ports in 180 s and members in 15 s at the least: what that leaves is had by telling it to
 * forget everything and waiting for the next query.
 */
export function settleSteps(plan: Plan, plane: Plane): readonly StepSpec[] {
  const wait = (seconds: number): StepSpec => ({ do: 'wait', seconds });
  return plane === 'bridges'
    ? [wait(settleS(plan))]
    : [wait(otherQuerierOf(plan) + (isLooped(plan) ? TREE_S : 0)), { do: 'forget' }, wait(ANSWERED_S)];
}

export function settleS(plan: Plan): number {
  return Math.max(
    1.5,
    ...plan.vlans.flatMap(({ igmp }) =>
      igmp?.snooping === true ? [otherQuerierPresentS(igmp) + (igmp.queryIntervalS ?? 0) + 0.5] : [],
    ),
  );
}

/** Time in which a host that hears nobody starts to query. */
function otherQuerierOf(plan: Plan): number {
  const rivals = plan.vlans.some(({ igmp }) => (igmp?.queriers.length ?? 0) > 1);
  return rivals ? settleS(plan) : 2;
}

/** Devices that query or route say so themselves; those that route query too, as PIM routers do. */
function speakSteps(plan: Plan): readonly StepSpec[] {
  return plan.vlans.flatMap((vlan) => {
    const inside = plan.interfaces.filter((one) => one.vlan === vlan);
    const routers = inside.filter((one) => vlan.routing?.routers.includes(one.device) === true);
    const asks = (one: Interface, protocol: 'igmp' | 'mld'): boolean =>
      vlan[protocol]?.snooping === true && vlan[protocol].queriers.some(({ on }) => on === one.device);
    const queriers = inside.filter(
      (one) => asks(one, 'igmp') || (vlan.igmp?.snooping === true && routers.includes(one)),
    );
    return [
      ...queriers.map((one): StepSpec => ({ do: 'query', host: hostName(one), version: vlan.igmp?.version ?? 3 })),
      ...inside
        .filter((one) => asks(one, 'mld'))
        .map((one): StepSpec => ({ do: 'query6', host: hostName(one), version: vlan.mld?.version ?? 2 })),
      ...(vlan.igmp?.snooping === true ? routers : []).map((one): StepSpec => ({ do: 'hello', host: hostName(one) })),
    ];
  });
}

function waitSteps(seconds: number | undefined): readonly StepSpec[] {
  return seconds === undefined ? [] : [{ do: 'wait', seconds }];
}

function joinSteps(plan: Plan): readonly StepSpec[] {
  return plan.receiverLegs.map((leg) => {
    if (leg.interface === undefined || leg.group === undefined) throw new Error(`${leg.receiver.label} joins nothing`);
    const source = sourceOf(leg);
    return {
      do: 'join',
      host: hostName(leg.interface),
      group: textOf(leg.group),
      ...(source === undefined ? {} : { source: textOf(source) }),
    };
  });
}

/** RFC 3376 §3.2: a socket asks for one source, or for any. */
function sourceOf({ join, source, takes }: ReceiverLeg): Address | undefined {
  if (join === 'any') return undefined;
  if (source !== undefined || join === 'stated') return source ?? takes?.source;
  return takes?.sourceStated === true ? takes.source : undefined;
}

function interfaceOf(leg: Leg): Interface {
  if (leg.interface === undefined) throw new Error(`${leg.sender.label} leaves by no interface`);
  return leg.interface;
}
