/** Aggregates whose members do not all run between the same two switches, or pairs of switches that act as one. */
import { addTo, append, groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Link, Plan, Rig, Switch } from '../../plan/types.js';
import { linkLabel } from '../vlans/index.js';

export interface PartedAggregate {
  readonly name: string;
  readonly rig: Rig;
  /** By label. */
  readonly links: NonEmpty<Link>;
  /** Switches at which members end, by name; those of one pair count as one end. */
  readonly ends: readonly (readonly Switch[])[];
  /**
   * `unsaid`: two of the ends may be one pair, and nobody says so. `apart`: they cannot, as there are more, or as the plan
   * makes one of them another's pair.
   */
  readonly why: 'unsaid' | 'apart';
}

/** An aggregate ends at one system on either side (IEEE 802.1AX-2020 §6.2.1), or at two that act as one (clause 9). */
export function partedAggregates(plan: Plan): readonly PartedAggregate[] {
  const named = new Map<Rig, Map<string, Link[]>>();
  for (const link of plan.links) {
    const [a, b] = link.ends.map((end) => end.switch);
    if (link.aggregate === undefined || a === undefined || b === undefined || a === b) continue;
    append(
      kept(named, link.rig, () => new Map<string, Link[]>()),
      link.aggregate,
      link,
    );
  }
  return [...named].flatMap(([rig, own]) =>
    [...own].flatMap(([name, links]) =>
      connected(links).flatMap((part): readonly PartedAggregate[] => {
        const ends = endsOf(part);
        const sorted = byLabel(part, linkLabel);
        if (ends.length < 3 || !isNonEmpty(sorted)) return [];
        return [{ name, rig, links: sorted, ends, why: mayBePair(ends, part, plan) ? 'unsaid' : 'apart' }];
      }),
    ),
  );
}

/** Names of aggregates are those of each switch: members without a common switch, or pair, are another aggregate. */
function connected(links: readonly Link[]): readonly (readonly Link[])[] {
  const joined = new UnionFind<object>();
  for (const link of links) {
    for (const { switch: one } of link.ends) if (one !== undefined) joined.union(link, endKey(one));
  }
  return [...groupBy(links, (link) => joined.find(link)).values()];
}

function endsOf(links: readonly Link[]): readonly (readonly Switch[])[] {
  const ends = new Map<object, Set<Switch>>();
  for (const { ends: both } of links) {
    for (const { switch: one } of both) if (one !== undefined) addTo(ends, endKey(one), one);
  }
  return byLabel(
    [...ends.values()].map((own) => byLabel([...own], ({ name }) => name)),
    (own) => own[0]?.name ?? '',
  );
}

/** One object for a pair of switches, or the switch itself. */
function endKey(one: Switch): object {
  return one.pair ?? one;
}

/** Three ends of which one is the near one of all members, and neither of the far ones is in a pair with another switch. */
function mayBePair(ends: readonly (readonly Switch[])[], links: readonly Link[], plan: Plan): boolean {
  if (ends.length !== 3) return false;
  const near = ends.filter((end) =>
    links.every((link) => link.ends.some((one) => one.switch !== undefined && end.includes(one.switch))),
  );
  return near.length === 1 && ends.every((end) => near.includes(end) || end.every((one) => isAlone(one, plan)));
}

function isAlone(one: Switch, { switches }: Plan): boolean {
  return one.pair === undefined || switches.every((other) => other === one || other.pair !== one.pair);
}
