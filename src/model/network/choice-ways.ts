/**
 * Where streams go only because an input that switches chooses them: links and ports by the choices that bring each stream
 * there. What comes anyway, for receivers that take one stream only, for queriers or flooded, is no matter of choice.
 */
import { append, groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { byCodeUnit } from '../../collections/order.js';
import type { Interface, Link, Port, Receiver, ReceiverLeg } from '../../plan/types.js';
import { onwardRouters, type Flow, type Network, type Reached, withReceivers } from './flows.js';
import { carriedBy, isOwnPort, isUnasked } from './forward.js';
import { carriersOf } from './ground.js';
import { isForward, type Edge } from './segment.js';
import { newPlace, type Place } from './worst-choice.js';

export interface ChoiceWays {
  readonly links: ReadonlyMap<Link, LinkPlaces>;
  /** By port, towards the host. */
  readonly ports: ReadonlyMap<Port, Place<Flow>>;
}

/** The directions of a link: from its first end, and back. */
export interface LinkPlaces {
  readonly there: Place<Flow>;
  readonly back: Place<Flow>;
  /** The part of each stream this link carries: with others in an aggregate, an even share. */
  readonly share: number;
}

export function isChoice({ receiver }: ReceiverLeg): boolean {
  return receiver.selection !== undefined;
}

/** The flow of the same stream at the same place while nothing is chosen. */
export function createUnchosen(unchosen: readonly Flow[]): (flow: Flow) => Flow | undefined {
  const byLeg = groupBy(unchosen, ({ leg }) => leg);
  return (flow) =>
    byLeg
      .get(flow.leg)
      ?.find(
        (one) =>
          one.forwarding.segment.domain === flow.forwarding.segment.domain &&
          one.from === flow.from &&
          one.through === flow.through,
      );
}

/** Choices that ask for a stream at one place: at a host, or through a router that carries it on to them. */
export interface Asking {
  readonly node: number;
  readonly port: Interface | undefined;
  readonly choices: readonly Receiver[];
  readonly legs: readonly ReceiverLeg[];
}

/** Who chooses a flow here or beyond a router, by where it has to go for them. */
export function choosersOf(flow: Flow): readonly Asking[] {
  const byPort = groupBy(flow.receivers, (reached) => (isChoice(reached.leg) ? reached.interface : undefined));
  const here = [...byPort].map(([port, list]): Asking => {
    const legs = list.map(({ leg }) => leg);
    return { node: list[0].node, port, legs, choices: legs.map(({ receiver }) => receiver) };
  });
  const beyond = onwardRouters(flow).flatMap(({ router, to }): Asking[] => {
    const legs = to.receivers.map(({ leg }) => leg).filter(isChoice);
    if (legs.length === 0) return [];
    return [{ node: router.node, port: router.port, legs, choices: legs.map(({ receiver }) => receiver) }];
  });
  return beyond.length === 0 ? here : [...here, ...beyond];
}

/** What goes to one address is sent whether anybody takes it or not. */
function isChosen({ leg: { group }, receivers, onward }: Flow): boolean {
  if (group === undefined) return false;
  return (
    receivers.some(({ leg }) => isChoice(leg)) || onward.some((to) => to.receivers.some(({ leg }) => isChoice(leg)))
  );
}

/** Flows that anybody chooses, by the names of their streams, so that of equal choices always the same one is named. */
export function choosingFlows({ flows }: Network): readonly Flow[] {
  return flows
    .filter(isChosen)
    .map((flow) => ({ flow, label: flow.leg.sender.label }))
    .sort((a, b) => byCodeUnit(a.label, b.label) || a.flow.leg.index - b.flow.leg.index)
    .map(({ flow }) => flow);
}

/** Notes that choices bring an item to a place. */
export function bring<Item>(place: Place<Item>, item: Item, choices: readonly Receiver[], loose: boolean): void {
  append(place.brought, item, choices);
  if (loose) place.loose = true;
}

export function choiceWays(network: Network, unchosen: readonly Flow[]): ChoiceWays {
  const links = new Map<Link, LinkPlaces>();
  const ports = new Map<Port, Place<Flow>>();
  const before = createUnchosen(unchosen);
  const visitor = (flow: Flow): Visitor => ({
    step: (edge, from, choices, loose) => {
      const members = carriersOf(flow.forwarding, edge);
      for (const link of members) {
        const both = kept(links, link, () => ({
          there: newPlace<Flow>(),
          back: newPlace<Flow>(),
          share: 1 / members.length,
        }));
        const forward = isForward(flow.forwarding.segment, edge, link) === (from === edge.a);
        bring(forward ? both.there : both.back, flow, choices, loose);
      }
    },
    port: ({ port }, choices, loose) => {
      if (port === undefined) return;
      bring(
        kept(ports, port, () => newPlace<Flow>()),
        flow,
        choices,
        loose,
      );
    },
  });
  for (const flow of choosingFlows(network)) {
    const asking = choosersOf(flow);
    const base = before(flow);
    // Flooded everywhere while nobody asks: nothing that is chosen adds to it.
    if (base?.flood !== undefined && base.plane.byHand === undefined) continue;
    if (isPlain(flow) && (base === undefined || isPlain(base))) addPlain(flow, base, asking, visitor(flow));
    else addOther(flow, base, asking, visitor(flow));
  }
  return { links, ports };
}

interface Visitor {
  readonly step: (edge: Edge, from: number, choices: readonly Receiver[], loose: boolean) => void;
  readonly port: (port: Interface, choices: readonly Receiver[], loose: boolean) => void;
}

function isPlain({ plane, flood, partly }: Flow): boolean {
  return plane.byHand === undefined && flood === undefined && !partly;
}

/** Where nothing floods, each choice has its way and no other. */
function addPlain(flow: Flow, base: Flow | undefined, asking: readonly Asking[], visit: Visitor): void {
  if (isUnasked(flow)) return;
  const { from, plane } = flow;
  const { tree } = flow.forwarding;
  const edges = new Set<number>();
  const ports = new Set<Interface>();
  if (base !== undefined) {
    const anyway = [
      ...base.receivers.map(({ node, interface: port }) => ({ node, port })),
      ...onwardRouters(base).map(({ router }) => router),
      ...plane.sinks,
    ];
    for (const { node, port } of anyway) {
      const steps = tree.path(from, node);
      if (steps === undefined) continue;
      for (const { edge } of steps) edges.add(edge.id);
      if (port !== undefined) ports.add(port);
    }
  }
  const all = asking.flatMap(({ choices }) => choices);
  const legs = asking.flatMap((one) => one.legs);
  // Beyond a router queriers get it too, as soon as anybody asks for it there.
  const also =
    base === undefined ? plane.sinks.map(({ node, port }): Asking => ({ node, port, legs, choices: all })) : [];
  for (const { node, port, choices } of [...asking, ...also]) {
    const steps = tree.path(from, node);
    if (steps === undefined) continue;
    for (const { edge, from: start } of steps) if (!edges.has(edge.id)) visit.step(edge, start, choices, false);
    if (port !== undefined && !ports.has(port) && !isOwnPort(flow, port)) visit.port(port, choices, false);
  }
}

/** Each of so many places is tried alone; with more they are taken together, which counts too much rather than too little. */
const MOST_TRIED = 32;

/** Where switches flood or are set by hand, each choice is followed switch by switch. */
function addOther(flow: Flow, base: Flow | undefined, asking: readonly Asking[], visit: Visitor): void {
  const before = base === undefined ? undefined : carriedBy(base);
  const edges = new Set([...(before?.steps.keys() ?? [])].map(({ edge }) => edge.id));
  const loose = asking.length > MOST_TRIED;
  const tries = loose
    ? [{ followed: flow, choices: asking.flatMap(({ choices }) => choices) }]
    : asking.map(({ legs, choices }) => ({ followed: asIfOnly(flow, base, new Set(legs.slice(0, 1))), choices }));
  for (const { followed, choices } of tries) {
    const carried = carriedBy(followed);
    for (const { edge, from } of carried.steps.keys()) if (!edges.has(edge.id)) visit.step(edge, from, choices, loose);
    for (const port of carried.ports.keys()) if (before?.ports.has(port) !== true) visit.port(port, choices, loose);
  }
}

/** The flow for those that take it anyway, and for a few that choose it. */
function asIfOnly(flow: Flow, base: Flow | undefined, chosen: ReadonlySet<ReceiverLeg>): Flow {
  const stays = (one: Reached): boolean => chosen.has(one.leg) || (base !== undefined && !isChoice(one.leg));
  return withReceivers(
    flow,
    flow.receivers.filter(stays),
    flow.onward.flatMap((to) => {
      const left = to.receivers.filter(stays);
      return left.length === 0 ? [] : [{ ...to, receivers: left }];
    }),
  );
}
