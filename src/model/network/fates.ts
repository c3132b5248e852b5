/**
 * What becomes of each leg of each reception once something is lost: whether it ends, when, and what it waits for where it
 * comes back another way.
 */
import { kept } from '../../collections/kept.js';
import type { Link, Plan, ReceiverLeg } from '../../plan/types.js';
import { isIPv4 } from '../../values/address.js';
import type { Span } from '../../values/span.js';
import { Elements } from './elements.js';
import type { Network } from './flows.js';
import type { Reception } from './failures.js';
import { carriersOf, planeOf, type ForwardingSegment } from './ground.js';
import { forwardsWithout, treeWithout } from './losses.js';
import type { Gone } from './loops.js';
import { receptionsOf } from './receptions.js';
import type { Remains, Removal } from './remains.js';
import { createRoutedLosses } from './routed-losses.js';
import { areOneAggregate } from './segment.js';
import { hangingOf } from './starvation.js';
import type { Tree } from './tree.js';
import { trialOf, type Trial } from './trial.js';
import { createTurnedWays, isPartlyFlooded } from './turned-ways.js';
import { blockedWayOf, findsWayAnew, wayOf, type ReceptionLeg, type Way } from './way.js';

export type LegFate =
  | { readonly kind: 'stays' }
  /** Gone at once, for good. */
  | { readonly kind: 'ends' }
  /**
   * Goes on until its membership is forgotten, as nobody queries any more: seconds after the loss. Where its way turns, it
   * is off besides until these trees have settled.
   */
  | { readonly kind: 'fades'; readonly ageing: Span; readonly grounds: readonly ForwardingSegment[] }
  /**
   * Off until the spanning trees of these segments have settled. `joins`: switches on its new way never heard a report for
   * it, so that it comes with the next one.
   */
  | { readonly kind: 'turns'; readonly grounds: readonly ForwardingSegment[]; readonly joins: boolean }
  /** On another member of an aggregate, at most: on all that are left its streams are spread anew. */
  | { readonly kind: 'shifts' }
  /** Through other routers, or another way between the same: when, the plan does not say. */
  | { readonly kind: 'reroutes' }
  /** Did not come while nothing had failed, and comes once the tree has turned and a report has. */
  | { readonly kind: 'opens'; readonly grounds: readonly ForwardingSegment[] };

export interface ReceptionFate {
  readonly reception: Reception;
  /** The legs that come, then those that would; the legs of a reception in its order. */
  readonly legs: readonly { readonly pair: ReceptionLeg; readonly fate: LegFate }[];
}

export interface Fates {
  /** Receptions of which a leg changes. */
  readonly changed: readonly ReceptionFate[];
  /** Receptions of which a leg comes while nothing has failed. */
  readonly count: number;
  /** Legs of receivers that come to them neither before nor after, or whose places the plan does not say. */
  readonly unfollowed: readonly ReceiverLeg[];
  readonly remains: Remains;
}

/** One pass over all receptions. */
export function fatesAfter(plan: Plan, network: Network, removal: Removal): Fates {
  const turned = createTurnedWays(network);
  const trial = trialOf(removal, network, { routed: createRoutedLosses(network, new Elements()), turned });
  const moves = createMoves(network, removal, trial.remains);
  const fateOf = (way: Way): LegFate => {
    if (trial.breaks(way)) return ENDS;
    const hanging = hangingOf(way);
    const starved = hanging !== undefined && trial.starves(hanging);
    const flooded = hanging === undefined && isPartlyFlooded(way);
    if ((starved || flooded) && trial.turns(way)) return ENDS;
    const move = moves(way, (tree) => turned.endsAlong(way, tree));
    if (!starved) return move;
    const { ageing } = planeOf(hanging.forwarding, way.leg.group).conduct;
    return { kind: 'fades', ageing, grounds: move.kind === 'turns' ? move.grounds : [] };
  };
  const changed: ReceptionFate[] = [];
  const unfollowed: ReceiverLeg[] = [];
  let count = 0;
  for (const receiver of plan.receivers) {
    for (const [sender, pairs] of receptionsOf(receiver)) {
      const reached: { readonly pair: ReceptionLeg; readonly fate: LegFate }[] = [];
      const opening: { readonly pair: ReceptionLeg; readonly fate: LegFate }[] = [];
      for (const pair of pairs) {
        const way = wayOf(pair, network);
        if (way !== undefined) reached.push({ pair, fate: fateOf(way) });
        else {
          const opened = openedBy(pair, trial, network);
          if (opened.length === 0) unfollowed.push(pair.receiverLeg);
          opening.push(...opened);
        }
      }
      if (reached.length > 0) count++;
      const legs = [...reached, ...opening];
      if (legs.every(({ fate }) => fate.kind === 'stays')) continue;
      changed.push({ reception: { receiver, sender, legs: reached.map(({ pair }) => pair) }, legs });
    }
  }
  return { changed, count, unfollowed, remains: trial.remains };
}

const ENDS: LegFate = { kind: 'ends' };
const STAYS: LegFate = { kind: 'stays' };
const SHIFTS: LegFate = { kind: 'shifts' };
const REROUTES: LegFate = { kind: 'reroutes' };

function openedBy(pair: ReceptionLeg, trial: Trial, network: Network): ReceptionFate['legs'] {
  const way = blockedWayOf(pair, network);
  if (way === undefined || !trial.opens(way)) return [];
  return [{ pair, fate: { kind: 'opens', grounds: way.stages.map(({ forwarding }) => forwarding) } }];
}

/** What a way that holds has to wait for. */
type Moves = (way: Way, joinsAlong: (tree: Tree) => boolean) => LegFate;

function createMoves(network: Network, { boxes, links }: Removal, remains: Remains): Moves {
  const gone: Gone = { switches: new Set([...boxes].filter((box) => 'ports' in box)), links };
  const grounds = new Map<ForwardingSegment, Turning>();
  const turningOf = (forwarding: ForwardingSegment): Turning =>
    kept(grounds, forwarding, () => turningIn(forwarding, gone, remains));
  const routes = new Map<string, boolean>();
  const numbers = new Map(network.forwardings.map((one, number) => [one, number]));

  /** Whether the routers take it the same way as before. */
  const isRoutedAlike = ({ leg: { group }, stages }: Way): boolean => {
    const [first] = stages;
    const last = stages.at(-1) ?? first;
    const four = group === undefined || isIPv4(group);
    const places = [numbers.get(first.forwarding), first.from, numbers.get(last.forwarding), last.to];
    return kept(routes, `${places.join(' ')} ${String(four)}`, () => {
      const found = remains
        .routing()
        .way({ forwarding: first.forwarding, node: first.from }, { forwarding: last.forwarding, node: last.to }, four);
      if (found.kind !== 'way' || found.stages.length !== stages.length) return false;
      return stages.every((stage, index) => {
        const now = found.stages[index];
        return (
          now?.forwarding === stage.forwarding &&
          now.from === stage.from &&
          now.to === stage.to &&
          now.router === stage.router
        );
      });
    });
  };

  return (way, joinsAlong) => {
    const { stages } = way;
    const [{ forwarding }] = stages;
    const moved = stages.map((stage) => turningOf(stage.forwarding).moved(stage.from, stage.to));
    if (findsWayAnew(way)) {
      if (!isRoutedAlike(way) || moved.includes('turned')) return REROUTES;
    } else if (moved.includes('turned')) {
      const turning = stages.flatMap((stage, index) => (moved[index] === 'turned' ? [stage.forwarding] : []));
      const joins = stages.length === 1 && way.leg.group !== undefined && joinsAlong(turningOf(forwarding).tree);
      return { kind: 'turns', grounds: [...new Set(turning)], joins };
    }
    return moved.includes('shifted') ? SHIFTS : STAYS;
  };
}

/** How frames pass a segment once something is lost. */
interface Turning {
  readonly tree: Tree;
  readonly moved: (from: number, to: number) => 'not' | 'shifted' | 'turned';
}

function turningIn(forwarding: ForwardingSegment, gone: Gone, remains: Remains): Turning {
  const { segment, parts } = forwarding;
  const touched = parts.length > 0 || remains.componentOf(forwarding) !== undefined;
  const roots = [...forwarding.igmp.sinks, ...forwarding.mld.sinks].map(({ node }) => node);
  const tree = touched ? treeWithout(segment, parts, gone, roots) : forwarding.tree;
  const isOpen = forwardsWithout(parts, gone);
  const known = new Map<number, ReturnType<Turning['moved']>>();
  const between = (from: number, to: number): ReturnType<Turning['moved']> => {
    const before = forwarding.tree.path(from, to) ?? [];
    const after = tree === forwarding.tree ? before : (tree.path(from, to) ?? []);
    if (before.length !== after.length) return 'turned';
    let found: ReturnType<Turning['moved']> = 'not';
    for (const [index, { edge, from: start }] of before.entries()) {
      const now = after[index];
      if (now?.edge !== edge || now.from !== start) return 'turned';
      const carried = carriersOf(forwarding, edge);
      if (!carried.some((link) => isLost(link) || !isOpen(link))) continue;
      if (!areOneAggregate(carried) || carried.length < 2) return 'turned';
      found = 'shifted';
    }
    return found;
  };
  const isLost = (link: Link): boolean => gone.links.has(link);
  return { tree, moved: (from, to) => kept(known, from * segment.nodes.length + to, () => between(from, to)) };
}
