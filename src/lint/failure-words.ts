/** Words and places of what can fail, alike in all rules on redundancy. */
import type { Element } from '../model/network/failures.js';
import { atRisk, fedOnlyBy } from '../model/network/shared-fate.js';
import { linkEnds, linkLabel } from '../model/vlans/trunks.js';
import type { Link, Plan } from '../plan/types.js';
import type { Mark, Touch } from './finding.js';
import { byLabel } from '../collections/order.js';
import { mark } from './marks.js';

/** `switch leaf-a`, `link R02`, `power feed truck-a`, `shared risk towpath duct`. */
export function elementLabel({ kind, name }: Element): string {
  return `${kind === 'risk' ? 'shared risk' : kind} ${name}`;
}

/** The same, stable where two rigs have a link of one name. */
export function elementSubject(element: Element): string {
  return isLink(element) ? `link ${linkEnds(element.thing)}` : elementLabel(element);
}

/** Where an element stands in the plan: itself, or everything that states the risk or hangs on the feed. */
export function elementMarks(plan: Plan, element: Element): readonly Mark[] {
  const { kind, name, thing } = element;
  if (kind === 'risk')
    return byLabel(
      atRisk(plan, name).map((link) => mark(link, `link ${linkLabel(link)}: ${name}`, 'risks')),
      ({ label }) => label,
    );
  if (kind === 'power feed')
    return byLabel(
      fedOnlyBy(plan, name).map((one) => mark(one, `switch ${one.name}: ${name} alone`, 'power')),
      ({ label }) => label,
    );
  return thing === undefined ? [] : [mark(thing, elementLabel(element), isLink(element) ? 'ends' : 'name')];
}

/** What the crew touches for it. */
export function elementTouch(plan: Plan, element: Element): Touch {
  const { kind, name } = element;
  if (kind === 'risk')
    return { kind: 'link', name: byLabel(atRisk(plan, name).map(linkLabel), (label) => label)[0] ?? name };
  if (kind === 'power feed')
    return {
      kind: 'switch',
      name:
        byLabel(
          fedOnlyBy(plan, name).map((one) => one.name),
          (label) => label,
        )[0] ?? name,
    };
  return { kind: kind === 'link' ? 'link' : kind === 'switch' ? 'switch' : 'device', name };
}

function isLink(element: Element): element is Element & { readonly thing: Link } {
  return element.thing !== undefined && 'ends' in element.thing;
}
