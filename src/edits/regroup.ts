/**
 * New groups for legs that can't keep theirs. A pair stays a pair: where the conventions map first legs to second ones, both
 * move when one alone would leave the map. What is chosen for a stream is chosen once, whichever finding asks first.
 */
import { groupBy } from '../collections/group-by.js';
import type { Leg, ReceiverLeg, Sender } from '../plan/types.js';
import type { Model } from '../model/model.js';
import { imageOf, keepsPromise } from '../model/groups/index.js';
import { groupRangesOf } from '../model/proposals/index.js';
import { parseAddress, rangeOf, type Address, type AddressRange } from '../values/address.js';
import { certainly, likely, peopleDecide, type Cure } from './cure.js';
import { createEditList } from './edit-list.js';
import { followersIn } from './followers.js';
import type { GroupMove } from './move-groups.js';
import { writeGroups } from './write-moves.js';

export interface RegroupOptions {
  /** What the finding's words offer a leg, so that words and edits say one thing. */
  readonly offered?: readonly { readonly leg: Leg; readonly group: string }[];
  readonly certainty?: 'certain' | 'likely';
}

/** Which legs move to which groups. */
export interface Regrouping {
  readonly moves: readonly GroupMove[];
  /** The first sender that finds no group it may have; nothing is moved then. */
  readonly stuck: Sender | undefined;
}

/** A free group for each leg that its conventions, its map and its practice allow; the other leg moves where the map asks for it. */
export function groupsFor(model: Model, legs: readonly Leg[], offered: RegroupOptions['offered'] = []): Regrouping {
  const offers = new Map(offered.flatMap(({ leg, group }) => offerOf(leg, group)));
  const moves: GroupMove[] = [];
  for (const [sender, own] of groupBy(legs, (leg) => leg.sender)) {
    const chosen = chosenFor(model, sender, own, offers);
    if (chosen === undefined) return { moves: [], stuck: sender };
    moves.push(...chosen);
  }
  return { moves, stuck: undefined };
}

/** A cure that gives each leg a free group its conventions, its map and its practice allow; people decide where one has none. */
export function regroup(model: Model, legs: readonly Leg[], options: RegroupOptions = {}): Cure {
  return regroupTo(model, groupsFor(model, legs, options.offered), options.certainty);
}

/** The cure that moves legs to groups chosen before, so that words and edits say one thing. */
export function regroupTo(
  model: Model,
  { moves, stuck }: Regrouping,
  certainty: 'certain' | 'likely' = 'certain',
): Cure {
  if (stuck !== undefined) return peopleDecide(`no group that ${stuck.label} may have is free`);
  const containers = new Set(moves.map(({ leg }) => leg.origin.container));
  if (containers.size < moves.length)
    return peopleDecide('a device kind states the group for several devices: each has to state its own');
  const edits = createEditList();
  writeGroups(model, moves, edits);
  return certainty === 'likely' ? likely(edits) : certainly(edits);
}

type Offers = ReadonlyMap<Leg, Address>;

function offerOf(leg: Leg, text: string): readonly (readonly [Leg, Address])[] {
  const group = parseAddress(text);
  return group === undefined ? [] : [[leg, group]];
}

const CHOSEN = new WeakMap<Model, Map<Sender, readonly GroupMove[]>>();

function chosenFor(
  model: Model,
  sender: Sender,
  legs: readonly Leg[],
  offers: Offers,
): readonly GroupMove[] | undefined {
  let known = CHOSEN.get(model);
  if (known === undefined) CHOSEN.set(model, (known = new Map<Sender, readonly GroupMove[]>()));
  const before = known.get(sender) ?? [];
  const open = legs.filter((leg) => before.every((move) => move.leg !== leg));
  if (open.length === 0) return before;
  const found = choose(model, sender, open, offers);
  if (found === undefined) return undefined;
  const all = [...before, ...found];
  known.set(sender, all);
  return all;
}

function choose(model: Model, sender: Sender, legs: readonly Leg[], offers: Offers): readonly GroupMove[] | undefined {
  const { proposals } = model;
  const { groupMap } = sender.rig.conventions;
  const [first, second] = sender.legs;
  const isPair = first?.group !== undefined && second?.group !== undefined && sender.legs.length === 2;
  if (isPair && groupMap.length > 0) {
    const [leg] = legs;
    const mapped =
      legs.length === 1 && leg !== undefined ? (offeredFit(leg, offers) ?? proposals.mappedGroup(leg)) : undefined;
    if (leg !== undefined && mapped !== undefined) return [{ leg, group: mapped }];
    const offer = [offers.get(first), offers.get(second)] as const;
    const pair =
      offer[0] !== undefined && offer[1] !== undefined
        ? ([offer[0], offer[1]] as const)
        : proposals.pairFor(first, second, [pairRangesOf(model, first), pairRangesOf(model, second)]);
    if (pair !== undefined)
      return [
        { leg: first, group: pair[0] },
        { leg: second, group: pair[1] },
      ];
  }
  const moves = legs.map((leg) => ({
    leg,
    group: offers.get(leg) ?? proposals.groupFor(leg) ?? proposals.group(leg.sender.rig, groupRangesOf(model, leg)),
  }));
  if (!moves.every((move): move is GroupMove => mayMove(model, move, offers))) return undefined;
  return keepsMap(sender, moves) ? moves : undefined;
}

/** Whether a pair fits the conventions' map once its legs have moved. */
function keepsMap({ legs, rig }: Sender, moves: readonly GroupMove[]): boolean {
  const [first, second] = legs.map((leg) => moves.find((move) => move.leg === leg)?.group ?? leg.group);
  if (first === undefined || second === undefined) return true;
  const image = imageOf(first, rig.conventions.groupMap);
  return image === undefined || image === second;
}

/** What nobody has offered has to keep what the conventions promise of the leg. */
function mayMove(
  { heldTo }: Model,
  { leg, group }: { readonly leg: Leg; readonly group: Address | undefined },
  offers: Offers,
): boolean {
  if (group === undefined) return false;
  return offers.has(leg) || heldTo(leg).every((promise) => keepsPromise(group, promise));
}

/** Ranges of one leg of a pair: what the conventions promise of it, else any group of the map that it may have. */
function pairRangesOf(model: Model, leg: Leg): readonly AddressRange[] {
  if (model.heldTo(leg).length > 0) return groupRangesOf(model, leg);
  return leg.sender.rig.conventions.groupMap.map((entry) => rangeOf(leg.index === 0 ? entry.first : entry.second));
}

/** An offer that fits the other leg by the conventions' map. */
function offeredFit(leg: Leg, offers: Offers): Address | undefined {
  const group = offers.get(leg);
  const [first, second] = leg.sender.legs;
  if (group === undefined || first?.group === undefined || second?.group === undefined) return undefined;
  const { groupMap } = leg.sender.rig.conventions;
  const fits = leg === first ? imageOf(group, groupMap) === second.group : imageOf(first.group, groupMap) === group;
  return fits ? group : undefined;
}

/** Receiver legs that state where a leg's stream is heard: what has to follow when the leg changes. */
export function listenersOf(model: Model, leg: Leg): readonly ReceiverLeg[] {
  return (followersIn(model).receivers.get(leg) ?? []).filter(({ takes }) => takes === leg);
}
