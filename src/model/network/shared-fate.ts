/** What failures mean for streams with one leg and with several, leaving out the boxes at their ends. */
import type { Device, Link, Plan, Sender, Switch } from '../../plan/types.js';
import type { Element, Failure, Failures, Reception } from './failures.js';

/** An element between the ends, with the receptions it takes off air. */
export interface Fate {
  readonly element: Element;
  readonly lost: readonly Reception[];
}

/** Elements that take every one of several working legs of a reception. */
export function sharedByLegs({ ranked }: Failures): readonly Fate[] {
  return fates(ranked, (one) => new Set(one.legs.map(({ leg }) => leg)).size > 1 && !inOneVlan(one));
}

/** Elements that take receptions of which the plan has one leg only. */
export function singlePoints({ ranked }: Failures): readonly Fate[] {
  return fates(ranked, isSingle);
}

/** Streams of a fate, each once. */
export function streamsOf(lost: readonly Reception[]): readonly Sender[] {
  return [...new Set(lost.map(({ sender }) => sender))];
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
    return own.length === 0 ? [] : [{ element, lost: own }];
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
