/** Words and sets for rules that find one fault in several legs at once. */
import { formatAddress, formatRange, type Address, type AddressRange } from '../values/address.js';
import type { Leg, Rig } from '../plan/types.js';
import type { Mark } from './finding.js';
import { byLabel } from '../collections/order.js';
import { legLabel } from '../words/labels.js';
import { mark } from './marks.js';
import { listNames } from '../words/lists.js';

/** Legs with one subject, sorted by their labels. */
export interface LegSet {
  readonly subject: string;
  readonly first: Leg;
  readonly legs: readonly Leg[];
  readonly names: readonly string[];
}

/** Legs in sets of one subject each. */
export function legSets(legs: readonly Leg[], subjectOf: (leg: Leg) => string): readonly LegSet[] {
  const bySubject = new Map<string, Leg[]>();
  for (const leg of legs) {
    const subject = subjectOf(leg);
    const set = bySubject.get(subject);
    if (set === undefined) bySubject.set(subject, [leg]);
    else set.push(leg);
  }
  return [...bySubject].flatMap(([subject, set]): LegSet[] => {
    const sorted = byLabel(set, legLabel);
    const [first] = sorted;
    return first === undefined ? [] : [{ subject, first, legs: sorted, names: sorted.map(legLabel) }];
  });
}

/** ` in rig Heron`, or nothing for a rig without a name: keeps subjects apart when two rigs share a network. */
export function inRig(rig: Rig): string {
  return rig.name === '' ? '' : ` in rig ${rig.name}`;
}

/** Marks of all legs but the first, each at its group and labelled with it; a place that devices of a kind share, once. */
export function otherMarks({ legs }: LegSet): readonly Mark[] {
  const marked = new Set<object>();
  const marks: Mark[] = [];
  for (const [index, leg] of legs.entries()) {
    const one = mark(leg, `${legLabel(leg)}: ${formatAddress(leg.group ?? 0)}`, 'group');
    if (index > 0 && !marked.has(one.place.container)) marks.push(one);
    marked.add(one.place.container);
  }
  return marks;
}

/** The groups of legs, each once, in address order. */
export function groupsOf(legs: readonly Leg[]): readonly Address[] {
  return [...new Set(legs.flatMap((leg) => leg.group ?? []))].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
}

/** `group 239.1.1.1` or `groups 239.1.1.1 and 239.1.1.2`. */
export function groupWords(legs: readonly Leg[]): string {
  const groups = groupsOf(legs);
  return `${groups.length === 1 ? 'group' : 'groups'} ${listNames(groups.map(formatAddress))}`;
}

/** `239.20.0.0-239.20.255.255 or 239.30.0.0-239.30.0.255`. */
export function rangeWords(ranges: readonly AddressRange[]): string {
  return ranges
    .map((range) => (range.first === range.last ? formatAddress(range.first) : formatRange(range)))
    .join(' or ');
}
