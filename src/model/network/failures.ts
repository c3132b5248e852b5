/**
 * What each single failure takes off air.
 *
 * Switches and links are judged by structure: a reception is lost with exactly the switches and links that every way
 * between its ends crosses, which the segment's block-cut tree gives without trying the failure. Shared risks and power
 * feeds take several at once, so each of them is tried, once for a segment.
 */
import type { Device, Link, Plan, Receiver, Sender, Switch, Vlan } from '../../plan/types.js';
import type { Network } from './flows.js';
import { planeOf } from './ground.js';
import { remainsOf, type Removal } from './remains.js';
import { type Element, Elements } from './elements.js';
import { createRoutedLosses, type RoutedLosses } from './routed-losses.js';
import {
  blockedWayOf,
  findsWayAnew,
  hangsOnQueries,
  opensWithout,
  wayOf,
  type ReceptionLeg,
  type Stage,
  type Way,
} from './way.js';
import { addBetween, createStarvers, hangingOf, isStarved, keyOfThing, type Hanging } from './starvation.js';
import { createTurnedWays, isPartlyFlooded, type TurnedWays } from './turned-ways.js';
import { createDetours, isBoundAlong } from './bound-detours.js';
import { addTo, append } from '../../collections/group-by.js';
import { byCodeUnit } from '../../collections/order.js';

/** A stream as one receiver takes it. */
export interface Reception {
  readonly receiver: Receiver;
  readonly sender: Sender;
  /** Legs that reach the receiver while nothing has failed. */
  readonly legs: readonly ReceptionLeg[];
}

export interface Failure {
  readonly element: Element;
  /** Receptions with nothing left. */
  readonly lost: readonly Reception[];
  /** Receptions that lose a leg and keep another. */
  readonly weakened: readonly Reception[];
  /** Receptions that go on, and end once memberships nobody renews any more are forgotten. */
  readonly fading: readonly Fading[];
  /** VLANs left without any querier. */
  readonly queriersLost: readonly Vlan[];
}

export interface Fading {
  readonly reception: Reception;
  /** True where nothing is left of it then, false where a leg is. */
  readonly whole: boolean;
  /** Seconds after the failure. */
  readonly withinS: number;
}

export interface Failures {
  readonly receptions: readonly Reception[];
  /** Every element whose failure takes anything, worst first: streams lost, then weakened, then by name. */
  readonly ranked: readonly Failure[];
}

export function buildFailures(plan: Plan, network: Network): Failures {
  const elements = new Elements();
  const receptions: Reception[] = [];
  const lost = new Map<Element, Reception[]>();
  const weakened = new Map<Element, Reception[]>();
  const fading = new Map<Element, Fading[]>();
  const starversOf = createStarvers<Element>(elements);
  const addDetours = createDetours<Element>(elements);
  const routed = createRoutedLosses(network, elements);
  const turned = createTurnedWays(network);
  const trials = trialsOf(plan, network, elements, { routed, turned });
  const trialOf = new Map(trials.map((one) => [one.element, one]));

  // Filled anew for each reception: one of each is enough for all of them.
  const hits = new Map<Element, number>();
  const hit = (element: Element): void => {
    hits.set(element, (hits.get(element) ?? 0) + 1);
  };
  const later = new Map<Element, { legs: number; withinS: number }>();
  const fade = (element: Element, withinS: number): void => {
    const known = later.get(element);
    if (known === undefined) later.set(element, { legs: 1, withinS });
    else {
      known.legs++;
      known.withinS = Math.max(known.withinS, withinS);
    }
  };

  for (const receiver of plan.receivers) {
    for (const [sender, legs] of receptionsOf(receiver)) {
      const ways = legs.flatMap((pair) => {
        const way = wayOf(pair, network);
        if (way === undefined) return [];
        const cut = cutElements(way, elements, addDetours, routed);
        const hanging = hangingOf(way);
        for (const element of hanging === undefined ? [] : starversOf(hanging)) {
          const thing = elements.bridging(element);
          if (thing !== undefined && !cut.has(element) && turned.endsWithout(way, thing)) cut.add(element);
        }
        for (const thing of turned.endings(way)) cut.add(keyOfThing(elements, thing));
        return [{ pair, way, cut, hanging }];
      });
      if (ways.length === 0) continue;
      const blocked =
        ways.length === legs.length
          ? []
          : legs
              .filter((pair) => !ways.some((one) => one.pair === pair))
              .flatMap((pair) => blockedWayOf(pair, network) ?? []);
      /** Whether a leg that gets nothing today gets it once something is lost, and the spanning tree turns. */
      const revives = (element: Element): boolean =>
        blocked.some(
          (way) =>
            trialOf.get(element)?.opens(way) ??
            (findsWayAnew(way) ? routed.opens(way, element) : opensWithout(way, element.thing)),
        );
      const reception: Reception = { receiver, sender, legs: ways.map(({ pair }) => pair) };
      receptions.push(reception);
      hits.clear();
      later.clear();
      for (const { way, cut, hanging } of ways) {
        for (const element of cut) hit(element);
        if (hanging !== undefined)
          for (const element of starversOf(hanging)) if (!cut.has(element)) fade(element, hanging.withinS);
        const flooded = hanging === undefined && isPartlyFlooded(way);
        for (const trial of trials) {
          if (trial.breaks(way)) {
            hit(trial.element);
            continue;
          }
          const starved = hanging !== undefined && trial.starves(hanging);
          if ((starved || flooded) && trial.turns(way)) hit(trial.element);
          else if (starved) fade(trial.element, hanging.withinS);
        }
      }
      for (const [element, count] of hits)
        append(count === ways.length && !revives(element) ? lost : weakened, element, reception);
      // On a long way to the querier many elements do the same: they share what is said of it.
      let alike: Fading | undefined;
      for (const [element, { legs, withinS }] of later) {
        const whole = legs + (hits.get(element) ?? 0) === ways.length && !revives(element);
        if (alike?.whole !== whole || alike.withinS !== withinS) alike = { reception, whole, withinS };
        append(fading, element, alike);
      }
    }
  }
  const queriers = queriersLost(network, elements, trials);
  const all = new Set([...lost.keys(), ...weakened.keys(), ...fading.keys(), ...queriers.keys()]);
  const ranked = [...all].map((element): Failure => ({
    element,
    lost: lost.get(element) ?? [],
    weakened: weakened.get(element) ?? [],
    fading: fading.get(element) ?? [],
    queriersLost: queriers.get(element) ?? [],
  }));
  ranked.sort(
    (a, b) =>
      b.lost.length - a.lost.length ||
      b.weakened.length - a.weakened.length ||
      b.queriersLost.length - a.queriersLost.length ||
      byCodeUnit(a.element.kind, b.element.kind) ||
      byCodeUnit(a.element.name, b.element.name),
  );
  return { receptions, ranked };
}

/** Pairs of a receiver's legs with the legs they take, by sender. */
function receptionsOf(receiver: Receiver): ReadonlyMap<Sender, readonly ReceptionLeg[]> {
  const found = new Map<Sender, ReceptionLeg[]>();
  for (const receiverLeg of receiver.legs) {
    const leg = receiverLeg.takes;
    // A leg that joins another group than the one it takes gets nothing.
    if (leg !== undefined && receiverLeg.group === leg.group) append(found, leg.sender, { leg, receiverLeg });
  }
  return found;
}

/** Elements without which nothing is left of the way. */
function cutElements(
  way: Way,
  elements: Elements,
  addDetours: ReturnType<typeof createDetours<Element>>,
  routed: RoutedLosses<Element>,
): Set<Element> {
  const ends = [
    elements.device(way.from.device),
    elements.device(way.to.device),
    elements.interface(way.from),
    elements.interface(way.to),
  ];
  if (findsWayAnew(way)) return new Set([...ends, ...routed.cutting(way)]);
  const found = new Set(ends);
  for (const stage of way.stages) {
    const { forwarding, from, to, router } = stage;
    addDetours(found, stage, way);
    for (const node of [from, to]) found.add(elements.switch(forwarding, node));
    addBetween(found, forwarding, from, to, elements);
    if (router !== undefined && 'interfaces' in router) found.add(elements.device(router));
  }
  return found;
}

/** A failure of several things at once, tried out. */
interface Trial {
  readonly element: Element;
  readonly breaks: (way: Way) => boolean;
  /** Whether it opens a way that the spanning tree keeps blocked. */
  readonly opens: (way: Way) => boolean;
  /** Whether no query comes to a membership any more. */
  readonly starves: (hanging: Hanging) => boolean;
  /** Whether what is starved ends at once, as the tree has turned. */
  readonly turns: (way: Way) => boolean;
  /** Whether a switch or device is gone. */
  readonly gone: (thing: Switch | Device) => boolean;
}

/** How ways of streams change once something is lost. */
interface Changes {
  readonly routed: RoutedLosses<Element>;
  readonly turned: TurnedWays;
}

function trialsOf(plan: Plan, network: Network, elements: Elements, changes: Changes): readonly Trial[] {
  const risks = new Map<string, Set<Link>>();
  for (const link of plan.links) for (const risk of link.risks) addTo(risks, risk, link);
  const feeds = new Map<string, Set<Switch | Device>>();
  for (const one of [...plan.switches, ...plan.devices]) {
    // A box on two feeds survives the loss of one.
    const [only, ...others] = new Set(one.power);
    if (only !== undefined && others.length === 0) addTo(feeds, only, one);
  }
  const trial = (element: Element, boxes: ReadonlySet<Switch | Device>, links: ReadonlySet<Link>): Trial =>
    trialOf(element, { boxes, links }, network, changes);
  return [
    ...[...risks].map(([name, links]) => trial(elements.named('risk', name), new Set(), links)),
    ...[...feeds].map(([name, boxes]) => trial(elements.named('power feed', name), boxes, new Set())),
  ];
}

function trialOf(element: Element, removal: Removal, network: Network, { routed, turned }: Changes): Trial {
  const { boxes, links } = removal;
  const remains = remainsOf(removal, network);
  const { componentOf, treeOf, isLost } = remains;
  const holds = (stage: Stage, way: Way): boolean => {
    const { forwarding, from, to, router } = stage;
    if (router !== undefined && boxes.has(router)) return false;
    const component = componentOf(forwarding);
    if (component !== undefined && (component[from] === -1 || component[from] !== component[to])) return false;
    return (component === undefined && links.size === 0) || isBoundAlong(treeOf, stage, way, isLost);
  };
  const breaks = (way: Way): boolean =>
    boxes.has(way.from.device) ||
    boxes.has(way.to.device) ||
    !(findsWayAnew(way) ? routed.survives(way, remains) : way.stages.every((stage) => holds(stage, way)));
  const starves = (hanging: Pick<Hanging, 'forwarding' | 'at' | 'sources'>): boolean => {
    const component = componentOf(hanging.forwarding) ?? hanging.forwarding.tree.component;
    return isStarved(
      hanging,
      (node) => component[node] ?? -1,
      (thing) => boxes.has(thing),
    );
  };
  return {
    element,
    breaks,
    starves,
    turns: (way) => {
      const [{ forwarding }] = way.stages;
      return forwarding.parts.length > 0 && turned.endsAlong(way, treeOf(forwarding));
    },
    opens: (way) => {
      const last = way.stages.at(-1);
      if (last === undefined || breaks(way)) return false;
      if (findsWayAnew(way)) return true;
      const plane = planeOf(last.forwarding, way.leg.group);
      return (
        !hangsOnQueries(plane, last.to) ||
        !starves({ forwarding: last.forwarding, at: last.to, sources: plane.sources })
      );
    },
    gone: (thing) => boxes.has(thing),
  };
}

/** VLANs whose every planned querier fails with an element. */
function queriersLost(network: Network, elements: Elements, trials: readonly Trial[]): ReadonlyMap<Element, Vlan[]> {
  const found = new Map<Element, Vlan[]>();
  for (const {
    segment,
    igmp: { conduct },
  } of network.forwardings) {
    const boxes = conduct.queriers.flatMap((one) => one.on ?? []);
    const [vlan] = segment.domain.vlans;
    const [first] = boxes;
    if (
      vlan === undefined ||
      first === undefined ||
      boxes.length < conduct.queriers.length ||
      conduct.snooping !== true
    )
      continue;
    if (boxes.every((box) => box === first))
      append(found, 'ports' in first ? elements.box(first) : elements.device(first), vlan);
    for (const one of trials) if (boxes.every((box) => one.gone(box))) append(found, one.element, vlan);
  }
  return found;
}
