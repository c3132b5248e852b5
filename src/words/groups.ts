/** Groups of streams in words. */
import { formatAddress, formatRange, type Address, type AddressRange } from '../values/address.js';
import { ascending } from '../collections/order.js';
import type { ConventionGroups, Leg } from '../plan/types.js';
import { agree } from './counts.js';
import { legLabel } from './labels.js';
import { listNames } from './lists.js';

/** The groups of legs, each once, in address order. */
export function groupsOf(legs: readonly Leg[]): readonly Address[] {
  return [...new Set(legs.flatMap((leg) => leg.group ?? []))].sort(ascending);
}

/** `group 239.1.1.1` or `groups 239.1.1.1 and 239.1.1.2`. */
export function groupWords(legs: readonly Leg[]): string {
  const groups = groupsOf(legs);
  return `${agree(groups.length, 'group')} ${listNames(groups.map(formatAddress))}`;
}

/** `239.20.0.0-239.20.255.255 or 239.30.0.0-239.30.0.255`. */
export function rangeWords(ranges: readonly AddressRange[]): string {
  return ranges
    .map((range) => (range.first === range.last ? formatAddress(range.first) : formatRange(range)))
    .join(' or ');
}

/** `the conventions' 239.20.0.0/16 for network red, video`. */
export function promiseWords({ network, vlan, essence, ranges }: ConventionGroups): string {
  const selectors = [
    network === undefined ? [] : `network ${network.name}`,
    vlan === undefined ? [] : `VLAN ${vlan.name}`,
    essence ?? [],
  ].flat();
  return `the conventions' ${rangeWords(ranges)}${selectors.length === 0 ? '' : ` for ${selectors.join(', ')}`}`;
}

/** A leg and the group it gets. */
export interface GroupMoveFact {
  readonly leg: Leg;
  readonly group: string;
}

/**
 * `give cam-1/video leg 1 239.20.0.1 and cam-1/video leg 2 239.21.0.1, which follows its other leg`: of the legs that move,
 * those a finding does not name itself are the other legs of pairs.
 */
export function groupMoveWords(moves: readonly GroupMoveFact[], named: readonly Leg[]): string {
  const own = new Set(named);
  const follow = moves.filter(({ leg }) => !own.has(leg));
  const said = listNames(moves.map(({ leg, group }) => `${legLabel(leg)} ${group}`));
  if (follow.length === 0) return `give ${said}`;
  const who = listNames(
    follow.map(({ leg }) => legLabel(leg)),
    2,
  );
  return `give ${said} (${who} ${agree(follow.length, 'moves', 'move')} with the other leg, as the conventions map one to the other)`;
}

/** The label of a place that is noted with a group. */
export function withGroup(name: string, group: string): string {
  return `${name}: ${group}`;
}
