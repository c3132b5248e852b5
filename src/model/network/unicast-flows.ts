/** Streams to one address on switches: where each passes a segment from one port to one other. */
import { append } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { Device, Interface, Leg, Plan, ReceiverLeg, Switch } from '../../plan/types.js';
import { isInterface, type Owner } from '../hosts/index.js';
import type { Domain } from '../vlans/index.js';
import type { Flow, Target } from './flow.js';
import type { ForwardingSegment } from './ground.js';
import type { Plane } from './plane.js';
import { domainsOnWay, forwardingBoxes, type UnicastRoute } from './unicast-route.js';
import type { Foot } from './unicast-boxes.js';

/** The way through one segment; what is undefined is not known. */
export interface UnicastStage {
  readonly forwarding: ForwardingSegment | undefined;
  readonly from: number | undefined;
  readonly to: Target | undefined;
  /** The box it comes from; undefined where the sender stands. */
  readonly through: Switch | Device | undefined;
  readonly entry: Interface | undefined;
  /** The box that sends it on from here; undefined at the end. */
  readonly router: Switch | Device | undefined;
}

type ForwardingAt = (domain: Domain) => ForwardingSegment | undefined;

/** Every segment on the way, as far as the route is known; its own place on a switch may not be. */
export function unicastStages(leg: Leg, route: UnicastRoute, forwardingAt: ForwardingAt): readonly UnicastStage[] {
  const hops = forwardingBoxes(route);
  const last = route.boxes.at(-1);
  const open = last?.out === undefined ? last?.into : undefined;
  return domainsOnWay(route).map((domain, index) => {
    const forwarding = forwardingAt(domain);
    const before = hops[index - 1];
    const next = hops[index];
    const end = route.stop === undefined ? route.end : undefined;
    const to =
      next === undefined
        ? open === undefined
          ? end === undefined
            ? undefined
            : placeOfOwner(end, forwarding)
          : placeOfFoot(open, forwarding)
        : placeOfFoot(next.into, forwarding);
    const from = before === undefined ? placeOfPort(leg.interface, forwarding) : placeOfFoot(before.out, forwarding);
    return {
      forwarding,
      from: from?.node,
      to,
      through: before?.out.on,
      entry: before === undefined ? leg.interface : before.out.via,
      router: next?.into.on,
    };
  });
}

function placeOfFoot({ on, via }: Foot, forwarding: ForwardingSegment | undefined): Target | undefined {
  return 'ports' in on ? placeOfSwitch(on, forwarding) : placeOfPort(via, forwarding);
}

function placeOfOwner(owner: Owner, forwarding: ForwardingSegment | undefined): Target | undefined {
  return isInterface(owner) ? placeOfPort(owner, forwarding) : placeOfSwitch(owner.switch, forwarding);
}

function placeOfSwitch(on: Switch, forwarding: ForwardingSegment | undefined): Target | undefined {
  const node = forwarding?.segment.nodeOf.get(on);
  return node === undefined ? undefined : { node, port: undefined };
}

function placeOfPort(via: Interface | undefined, forwarding: ForwardingSegment | undefined): Target | undefined {
  const node = via?.port === undefined ? undefined : forwarding?.segment.nodeOf.get(via.port.switch);
  return node === undefined ? undefined : { node, port: via };
}

/** The flows of one leg: up to where its place on a switch is known. A sender whose way is open still fills its own port. */
export function createUnicastFlows(
  plan: Plan,
  forwardingAt: ForwardingAt,
): (leg: Leg, route: UnicastRoute) => readonly Flow[] {
  const planes = new Map<ForwardingSegment, Plane>();
  let takers: ReadonlyMap<Leg, readonly ReceiverLeg[]> | undefined;
  return (leg, route) => {
    if (!route.sent) return [];
    const flows: Flow[] = [];
    for (const { forwarding, from, to, through, entry, router } of unicastStages(leg, route, forwardingAt)) {
      if (forwarding === undefined || from === undefined) break;
      // A router forwards only what has more than one hop left (RFC 1812 §4.2.2.9).
      if (leg.ttl !== undefined && leg.ttl <= flows.length) break;
      const isEnd = router === undefined && route.stop === undefined && to?.port !== undefined && to.port === route.end;
      const port = isEnd ? to.port : undefined;
      takers ??= takersByLeg(plan);
      flows.push({
        leg,
        forwarding,
        from,
        through,
        entry,
        plane: kept(planes, forwarding, () => planeWithoutGroups(forwarding)),
        receivers:
          port === undefined
            ? []
            : (takers.get(leg) ?? []).flatMap((one) =>
                one.interface === port ? [{ leg: one, node: to?.node ?? from, interface: port }] : [],
              ),
        onward: [],
        to: to ?? { node: from, port: undefined },
        flood: port?.silent === true ? 'silent receiver' : undefined,
        partly: false,
      });
    }
    return flows;
  };
}

function takersByLeg({ receiverLegs }: Plan): ReadonlyMap<Leg, readonly ReceiverLeg[]> {
  const found = new Map<Leg, ReceiverLeg[]>();
  for (const one of receiverLegs) if (one.takes?.unicast !== undefined) append(found, one.takes, one);
  return found;
}

/** What switches do with groups decides nothing for frames to one address. */
function planeWithoutGroups({ igmp }: ForwardingSegment): Plane {
  return {
    conduct: { ...igmp.conduct, queriers: [], routed: false, routers: [], keyedByMac: [] },
    sinks: [],
    routers: [],
    sources: [],
    unplaced: false,
    asking: [],
    floodAt: () => undefined,
    floodAround: () => ({ everywhere: undefined, somewhere: false }),
    byHand: undefined,
    floodsForgotten: () => false,
    floodsUnqueried: () => false,
    floodsSomewhere: () => false,
  };
}
