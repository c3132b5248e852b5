/** Sets of legs for rules that find one fault in several at once, and their places. */
import { formatAddress } from '../values/address.js';
import { groupBy } from '../collections/group-by.js';
import type { NonEmpty } from '../collections/non-empty.js';
import { byLabel } from '../collections/order.js';
import type { Leg, Rig } from '../plan/types.js';
import { legLabel } from '../words/labels.js';
import type { FindingDraft, Mark } from './finding.js';
import { mark, noted, touchOf } from './marks.js';

/** Legs with one subject, sorted by their labels. */
export interface LegSet {
  readonly subject: string;
  readonly first: Leg;
  readonly legs: NonEmpty<Leg>;
  readonly names: readonly string[];
}

/** Legs in sets of one subject each. */
export function legSets(legs: readonly Leg[], subjectOf: (leg: Leg) => string): readonly LegSet[] {
  return [...groupBy(legs, subjectOf)].map(([subject, set]) => {
    const sorted = byLabel(set, legLabel);
    return { subject, first: sorted[0], legs: sorted, names: sorted.map(legLabel) };
  });
}

/** ` in rig Heron`, or nothing for a rig without a name: keeps subjects apart when two rigs share a network. */
export function inRig(rig: Rig): string {
  return rig.name === '' ? '' : ` in rig ${rig.name}`;
}

/** `239.1.1.1 in rig Heron`. */
export function groupSubject({ group, sender }: Leg): string {
  return `${formatAddress(group ?? 0)}${inRig(sender.rig)}`;
}

/** The place of a leg's group, noted with it. */
export function groupMark(leg: Leg): Mark<string> {
  return noted(mark(leg, legLabel(leg), 'group'), formatAddress(leg.group ?? 0));
}

/** Marks of all legs but the first, each at its group; a place that devices of a kind share, once. */
export function otherMarks([first, ...rest]: NonEmpty<Leg>): readonly Mark<string>[] {
  const marked = new Set<object>([groupMark(first).place.container]);
  return rest.map(groupMark).filter(({ place: { container } }) => {
    if (marked.has(container)) return false;
    marked.add(container);
    return true;
  });
}

/** All of a finding about a set of legs but its facts. */
export function setDraft({ subject, first, legs, names }: LegSet): Omit<FindingDraft<object, string>, 'facts'> {
  return { subject, parties: names, at: groupMark(first), others: otherMarks(legs), touch: touchOf(first.sender) };
}
