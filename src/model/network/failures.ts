/**
 * What each single failure takes off air.
 *
 * Switches and links are judged by structure: a reception is lost with exactly the switches and links that every way
 * between its ends crosses, which the segment's block-cut tree gives without trying the failure. Shared risks and power
 * feeds take several at once, so each of them is tried, once for a segment.
 */
import type { Device, Link, Plan, Receiver, Sender, Switch, Vlan } from '../../plan/types.js';
import type { Network } from './flows.js';
import { type Element, Elements } from './elements.js';
import { createRoutedLosses, type RoutedLosses } from './routed-losses.js';
import { receptionsOf } from './receptions.js';
import { trialOf, type Changes, type Trial } from './trial.js';
import { blockedWayOf, findsWayAnew, opensWithout, wayOf, type ReceptionLeg, type Way } from './way.js';
import { addBetween, createStarvers, hangingOf, keyOfThing } from './starvation.js';
import { createTurnedWays, isPartlyFlooded } from './turned-ways.js';
import { createDetours } from './bound-detours.js';
import { addTo } from '../../collections/group-by.js';
import { NumberedLists } from '../../collections/numbered-lists.js';
import { byCodeUnit } from '../../collections/order.js';
import { Tally } from '../../collections/tally.js';

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
  const lost = new NumberedLists<Reception>();
  const weakened = new NumberedLists<Reception>();
  const fading = new NumberedLists<Fading>();
  const starversOf = createStarvers(elements);
  const addDetours = createDetours(elements);
  const routed = createRoutedLosses(network, elements);
  const turned = createTurnedWays(network);
  const trials = trialsOf(plan, network, elements, { routed, turned });
  const trialOf = new Map(trials.map((one) => [one.element, one]));

  // Emptied for each way, and for each reception: one of each is enough for all of them.
  const cut = new Tally();
  const hits = new Tally();
  const later = new Tally();
  const laterWithinS = new Map<number, number>();
  const fade = (element: number, withinS: number): void => {
    later.add(element);
    if (withinS > (laterWithinS.get(element) ?? 0)) laterWithinS.set(element, withinS);
  };
  const follow = (way: Way): void => {
    cut.clear();
    addCutElements(cut, way, elements, addDetours, routed);
    const hanging = hangingOf(way);
    const starvers = hanging === undefined ? NOBODY : starversOf(hanging);
    for (const element of starvers) {
      const thing = elements.bridging(element);
      if (thing !== undefined && !cut.has(element) && turned.endsWithout(way, thing)) cut.add(element);
    }
    for (const thing of turned.endings(way)) cut.add(keyOfThing(elements, thing));
    for (const element of cut.counted) hits.add(element);
    if (hanging !== undefined) for (const element of starvers) if (!cut.has(element)) fade(element, hanging.withinS);
    const flooded = hanging === undefined && isPartlyFlooded(way);
    for (const trial of trials) {
      if (trial.breaks(way)) {
        hits.add(trial.element);
        continue;
      }
      const starved = hanging !== undefined && trial.starves(hanging);
      if ((starved || flooded) && trial.turns(way)) hits.add(trial.element);
      else if (starved) fade(trial.element, hanging.withinS);
    }
  };

  for (const receiver of plan.receivers) {
    for (const [sender, legs] of receptionsOf(receiver)) {
      hits.clear();
      later.clear();
      laterWithinS.clear();
      const reached: ReceptionLeg[] = [];
      for (const pair of legs) {
        const way = wayOf(pair, network);
        if (way === undefined) continue;
        reached.push(pair);
        follow(way);
      }
      if (reached.length === 0) continue;
      const reception: Reception = { receiver, sender, legs: reached };
      receptions.push(reception);
      const blocked =
        reached.length === legs.length
          ? NO_WAYS
          : legs.filter((pair) => !reached.includes(pair)).flatMap((pair) => blockedWayOf(pair, network) ?? []);
      for (const element of hits.counted)
        (hits.of(element) === reached.length && !revives(blocked, element) ? lost : weakened).append(
          element,
          reception,
        );
      // On a long way to the querier many elements do the same: they share what is said of it.
      let alike: Fading | undefined;
      for (const element of later.counted) {
        const withinS = laterWithinS.get(element) ?? 0;
        const whole = later.of(element) + hits.of(element) === reached.length && !revives(blocked, element);
        if (alike?.whole !== whole || alike.withinS !== withinS) alike = { reception, whole, withinS };
        fading.append(element, alike);
      }
    }
  }
  const queriersLost = queriersLostIn(network, elements, trials);
  const ranked = elements.all
    .map((element, number) => ({
      element,
      lost: lost.of(number),
      weakened: weakened.of(number),
      fading: fading.of(number),
      queriersLost: queriersLost.of(number),
    }))
    .filter((one) => one.lost.length + one.weakened.length + one.fading.length + one.queriersLost.length > 0);
  ranked.sort(
    (a, b) =>
      b.lost.length - a.lost.length ||
      b.weakened.length - a.weakened.length ||
      b.queriersLost.length - a.queriersLost.length ||
      byCodeUnit(a.element.kind, b.element.kind) ||
      byCodeUnit(a.element.name, b.element.name),
  );
  return { receptions, ranked };

  /** Whether a leg that gets nothing today gets it once something is lost, and the spanning tree turns. */
  function revives(blocked: readonly Way[], element: number): boolean {
    return blocked.some(
      (way) =>
        trialOf.get(element)?.opens(way) ??
        (findsWayAnew(way) ? routed.opens(way, element) : opensWithout(way, elements.at(element).thing)),
    );
  }
}

const NO_WAYS: readonly Way[] = [];
const NOBODY: ReadonlySet<number> = new Set();

/** Adds elements without which nothing is left of the way. */
function addCutElements(
  found: Tally,
  way: Way,
  elements: Elements,
  addDetours: ReturnType<typeof createDetours<number>>,
  routed: RoutedLosses<number>,
): void {
  found.add(elements.device(way.from.device));
  found.add(elements.device(way.to.device));
  found.add(elements.interface(way.from));
  found.add(elements.interface(way.to));
  if (findsWayAnew(way)) {
    for (const element of routed.cutting(way)) found.add(element);
    return;
  }
  for (const stage of way.stages) {
    const { forwarding, from, to, router } = stage;
    addDetours(found, stage, way);
    found.add(elements.switch(forwarding, from));
    found.add(elements.switch(forwarding, to));
    addBetween(found, forwarding, from, to, elements);
    if (router !== undefined && 'interfaces' in router) found.add(elements.device(router));
  }
}

/** What shares a risk or a feed fails at once, and is tried. */
interface ElementTrial extends Trial {
  readonly element: number;
}

function trialsOf(plan: Plan, network: Network, elements: Elements, changes: Changes): readonly ElementTrial[] {
  const risks = new Map<string, Set<Link>>();
  for (const link of plan.links) for (const risk of link.risks) addTo(risks, risk, link);
  const feeds = new Map<string, Set<Switch | Device>>();
  for (const one of [...plan.switches, ...plan.devices]) {
    // A box on two feeds survives the loss of one.
    const [only, ...others] = new Set(one.power);
    if (only !== undefined && others.length === 0) addTo(feeds, only, one);
  }
  const trial = (element: number, boxes: ReadonlySet<Switch | Device>, links: ReadonlySet<Link>): ElementTrial => ({
    element,
    ...trialOf({ boxes, links }, network, changes),
  });
  return [
    ...[...risks].map(([name, links]) => trial(elements.named('risk', name), new Set(), links)),
    ...[...feeds].map(([name, boxes]) => trial(elements.named('power feed', name), boxes, new Set())),
  ];
}

/** VLANs whose every planned querier fails with an element. */
function queriersLostIn(network: Network, elements: Elements, trials: readonly ElementTrial[]): NumberedLists<Vlan> {
  const found = new NumberedLists<Vlan>();
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
      found.append('ports' in first ? elements.box(first) : elements.device(first), vlan);
    for (const one of trials) if (boxes.every((box) => one.gone(box))) found.append(one.element, vlan);
  }
  return found;
}
