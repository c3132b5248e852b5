/** Groups of streams in words. */
import { formatAddress, formatRange, type Address, type AddressRange } from '../values/address.js';
import { ascending } from '../collections/order.js';
import type { ConventionGroups, Leg } from '../plan/types.js';
import { agree } from './counts.js';
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

/** The label of a place that is noted with a group. */
export function withGroup(name: string, group: string): string {
  return `${name}: ${group}`;
}
