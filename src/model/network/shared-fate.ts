/** What failures mean for streams with one leg and with several, leaving out the boxes at their ends. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, mapAll, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Device, Link, Plan, Rig, Sender, Switch } from '../../plan/types.js';
import { linkEnds } from '../vlans/index.js';
import type { Element, ElementKind } from './elements.js';
import type { Failure, Failures, Reception } from './failures.js';

/** An element between the ends, with the receptions it takes off air. */
export interface Fate {
  readonly element: Element;
  readonly lost: NonEmpty<Reception>;
}

/** Elements that take every one of several working legs of a reception. */
export function sharedByLegs({ ranked }: Failures): readonly Fate[] {
  return fates(ranked, (one) => new Set(one.legs.map(({ leg }) => leg)).size > 1 && !inOneVlan(one));
}

/**
 * The same by cause: elements that take the same receptions are one, the first of each the one a crew thinks of first.
 * A feed or a duct that takes no more than the shared switches and links on it is not a second cause.
 */
export function sharedCauses(failures: Failures, isAstray: (sender: Sender) => boolean): readonly NonEmpty<Fate>[] {
  const all = sharedByLegs(failures).flatMap((one) => without(one, isAstray));
  if (all.length === 0) return [];
  const numbers = new Map(failures.receptions.map((one, index) => [one, index]));
  const solid = all.filter(({ element: { kind } }) => kind !== 'risk' && kind !== 'power feed');
  const told = new Set(solid.flatMap(({ lost }) => lost));
  const wide = all.filter((one) => !solid.includes(one) && one.lost.some((reception) => !told.has(reception)));
  const causes = groupBy([...solid, ...wide], ({ lost }) => lost.map((one) => numbers.get(one)).join(' '));
  return byLabel(
    [...causes.values()].map((cause) => byLabel(cause, rankOf)),
    ([first]) => rankOf(first),
  );
}

/** `isAstray`: a leg of the stream leaves by a wrong interface; what follows from that is no fault of the way. */
function without({ element, lost }: Fate, isAstray: (sender: Sender) => boolean): readonly Fate[] {
  const left = lost.filter(({ sender }) => !isAstray(sender));
  return isNonEmpty(left) ? [{ element, lost: left }] : [];
}

/** An element that takes so many streams alone. */
export interface LonePoint {
  readonly fate: Fate;
  readonly streams: NonEmpty<Sender>;
}

/**
 * Elements that take at least so many streams (the least that a rig of theirs says) of which receivers have one leg, the worst first; what takes nothing more
 * than those before it is left out, as the leaf behind a lone core is.
 */
export function lonePoints(
  failures: Failures,
  leastOf: (rig: Rig) => number,
  isAstray: (sender: Sender) => boolean,
): readonly LonePoint[] {
  const all = singlePoints(failures).flatMap((one) => without(one, isAstray));
  const points = all.map((fate) => ({ fate, streams: streamsOf(fate.lost) }));
  const ranked = byLabel(
    points.filter(({ streams }) => streams.length >= Math.min(...new Set(streams.map(({ rig }) => leastOf(rig))))),
    ({ fate }) => rankOf(fate),
  ).toSorted((a, b) => b.streams.length - a.streams.length || b.fate.lost.length - a.fate.lost.length);
  const told = new Set<Reception>();
  return ranked.filter(({ fate: { lost } }) => {
    const fresh = lost.some((one) => !told.has(one));
    for (const one of lost) told.add(one);
    return fresh;
  });
}

/** Switches before links, links before risks and feeds; then by name. */
function rankOf({ element: { kind, name, thing } }: Fate): string {
  return `${KINDS.indexOf(kind)} ${thing !== undefined && 'ends' in thing ? linkEnds(thing) : name}`;
}

const KINDS: readonly ElementKind[] = ['switch', 'device', 'link', 'risk', 'power feed', 'interface'];

/** Elements that take receptions of which the plan has one leg only. */
function singlePoints({ ranked }: Failures): readonly Fate[] {
  return fates(ranked, isSingle);
}

/** Streams of a fate, each once. */
export function streamsOf(lost: NonEmpty<Reception>): NonEmpty<Sender> {
  const [first, ...rest] = mapAll(lost, ({ sender }) => sender);
  return [first, ...new Set(rest.filter((one) => one !== first))];
}

/** The switches that hang on a power feed alone. */
export function fedOnlyBy({ switches }: Plan, feed: string): readonly Switch[] {
  return switches.filter(({ power }) => power.length > 0 && power.every((one) => one === feed));
}

/** The links that share a risk. */
export function atRisk({ links }: Plan, risk: string): readonly Link[] {
  return links.filter(({ risks }) => risks.includes(risk));
}

function fates(ranked: readonly Failure[], counts: (one: Reception) => boolean): readonly Fate[] {
  return ranked.flatMap(({ element, lost }) => {
    if (element.kind === 'interface') return [];
    const own = lost.filter((one) => !isEnd(element, one) && counts(one));
    return isNonEmpty(own) ? [{ element, lost: own }] : [];
  });
}

/** Losing the box at an end, or the only feed of one, is the loss of that box, not of its way. */
function isEnd(element: Element, { legs, receiver }: Reception): boolean {
  const boxes = [receiver.device, ...legs.flatMap(({ leg }) => leg.interface?.device ?? [])];
  return boxes.some((box) => box === element.thing || (element.kind === 'power feed' && hangsOn(box, element.name)));
}

function hangsOn({ power }: Device, feed: string): boolean {
  return power.length > 0 && power.every((one) => one === feed);
}

function inOneVlan({ legs }: Reception): boolean {
  return new Set(legs.map(({ leg }) => leg.vlan)).size < legs.length;
}

/** The receiver takes one leg, whether the plan tells where its other ones go or not. */
function isSingle({ receiver, sender }: Reception): boolean {
  let taken: unknown;
  for (const { takes } of receiver.legs) {
    if (takes?.sender !== sender || takes === taken) continue;
    if (taken !== undefined) return false;
    taken = takes;
  }
  return true;
}
