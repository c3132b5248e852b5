/**
 * A name that many use and nothing has, beside one name of the same sort that two things have: one of the two lost its own
 * name to the other's, and one line explains both.
 */
import { groupBy } from '../../collections/group-by.js';
import type { Device, Plan, WantedKind } from '../../plan/types.js';
import { lostNames, type LostName } from './lost-names.js';
import { namesakes, type NamedEntity, type NamedKind, type Namesakes } from './namesakes.js';

export interface DoubledLost {
  readonly namesakes: Namesakes;
  /** The name that one of them most likely had. */
  readonly lost: LostName;
  /** The one whose host numbers are the number in the lost name, as the other's are that in its own; undefined where they tell nothing. */
  readonly loser: NamedEntity | undefined;
}

/** So many uses of a name are no slips of their own. */
const LEAST_USES = 2;

/** At most one for each sort of thing: of several names that lead nowhere, or that come twice, nobody can tell which is whose. */
export function doubledLost(plan: Plan): readonly DoubledLost[] {
  if (plan.unresolved.length === 0) return [];
  const doubled = groupBy(namesakes(plan), ({ what, device }) => (device === undefined ? what : undefined));
  const lost = groupBy(lostNames(plan), ({ wanted: { kind } }) => SORTS[kind]);
  return [...lost].flatMap(([what, [first, ...others]]): readonly DoubledLost[] => {
    const [twins, ...more] = doubled.get(what) ?? [];
    if (twins === undefined || more.length > 0 || others.length > 0) return [];
    if (twins.things.length !== 2 || twins.rigs.length > 1) return [];
    return first.names.length > 1 || first.uses.length < LEAST_USES
      ? []
      : [{ namesakes: twins, lost: first, loser: loserOf(twins, first.names[0]) }];
  });
}

function loserOf({ things, name }: Namesakes, lost: string): NamedEntity | undefined {
  const fits = (thing: NamedEntity, number: string | undefined): boolean =>
    number !== undefined && 'interfaces' in thing && hostNumbers(thing as Device).has(Number(number));
  const [own, others] = [/\d+$/.exec(name)?.[0], /\d+$/.exec(lost)?.[0]];
  const losers = things.filter((one) => fits(one, others) && !fits(one, own));
  const [loser] = losers;
  return losers.length === 1 && things.every((one) => one === loser || fits(one, own)) ? loser : undefined;
}

/** The last number of each IPv4 address. */
function hostNumbers({ interfaces }: Device): ReadonlySet<number> {
  return new Set(interfaces.flatMap(({ address }) => (typeof address === 'number' ? [address % 256] : [])));
}

/** Boxes that query or route are switches here. */
const SORTS: Readonly<Partial<Record<WantedKind, NamedKind>>> = {
  device: 'device',
  switch: 'switch',
  box: 'switch',
  vlan: 'VLAN',
  network: 'network',
  kind: 'device kind',
  format: 'format',
};
