/** Places and hands-on things of what can fail, alike in all rules on redundancy. */
import { byLabel } from '../collections/order.js';
import { atRisk, type Element, fedOnlyBy } from '../model/network/index.js';
import { linkEnds, linkLabel } from '../model/vlans/index.js';
import type { Link, Plan } from '../plan/types.js';
import { elementLabel, sharedLabel, type NamedElement, type SharedNote } from '../words/failures.js';
import type { Mark, Touch } from './finding.js';
import { mark, noted } from './marks.js';

/** An element as a fact of a finding. */
export function namedElement({ kind, name }: Element): NamedElement {
  return { kind, name };
}

/** Its label, stable where two rigs have a link of one name. */
export function elementSubject(element: Element): string {
  return isLink(element) ? `link ${linkEnds(element.thing)}` : elementLabel(element);
}

/** Where an element stands in the plan: itself, or everything that states the risk or hangs on the feed. */
export function elementMarks(plan: Plan, element: Element): readonly Mark<SharedNote>[] {
  const { kind, name, thing } = element;
  if (kind === 'risk') {
    const note = { risk: name };
    const marks = atRisk(plan, name).map((link) => noted(mark(link, `link ${linkLabel(link)}`, 'risks'), note));
    return byLabel(marks, ({ label }) => sharedLabel(label, note));
  }
  if (kind === 'power feed') {
    const note = { onlyFeed: name };
    const marks = fedOnlyBy(plan, name).map((one) => noted(mark(one, `switch ${one.name}`, 'power'), note));
    return byLabel(marks, ({ label }) => sharedLabel(label, note));
  }
  return thing === undefined ? [] : [mark(thing, elementLabel(element), isLink(element) ? 'ends' : 'name')];
}

/** What the crew touches for it. */
export function elementTouch(plan: Plan, { kind, name }: Element): Touch {
  const first = (names: readonly string[]): string => byLabel(names, (one) => one)[0] ?? name;
  switch (kind) {
    case 'risk':
      return { kind: 'link', name: first(atRisk(plan, name).map(linkLabel)) };
    case 'power feed':
      return { kind: 'switch', name: first(fedOnlyBy(plan, name).map((one) => one.name)) };
    case 'link':
    case 'switch':
      return { kind, name };
    case 'device':
    case 'interface':
      return { kind: 'device', name };
  }
}

function isLink(element: Element): element is Element & { readonly thing: Link } {
  return element.thing !== undefined && 'ends' in element.thing;
}
