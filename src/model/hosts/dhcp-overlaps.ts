/** DHCP ranges of one VLAN, written by several rigs, that overlap. */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Vlan } from '../../plan/types.js';
import { isIPv4, type Address, type AddressRange } from '../../values/address.js';

/** What one entry of a VLAN hands out. */
export interface DhcpEntry {
  readonly vlan: Vlan;
  readonly dhcp: AddressRange;
}

/** Ranges that hang together, in address order; a rig's second entry of a name is `plan/duplicate-name`. */
export function overlappingRanges(vlans: readonly Vlan[]): readonly NonEmpty<DhcpEntry>[] {
  const byName = new Map<string, DhcpEntry>();
  for (const vlan of vlans) {
    const key = `${vlan.rig.name}\n${vlan.name}`;
    if (vlan.dhcp !== undefined && !byName.has(key)) byName.set(key, { vlan, dhcp: vlan.dhcp });
  }
  const entries = [...byName.values()].sort(
    ({ dhcp: a }, { dhcp: b }) => Number(isIPv4(b.first)) - Number(isIPv4(a.first)) || (a.first < b.first ? -1 : 1),
  );
  const clusters: DhcpEntry[][] = [];
  let last: Address | undefined;
  for (const entry of entries) {
    const { first, last: end } = entry.dhcp;
    const open = last !== undefined && isIPv4(last) === isIPv4(first) && first <= last;
    if (open) clusters.at(-1)?.push(entry);
    else clusters.push([entry]);
    last = open && last !== undefined && last > end ? last : end;
  }
  return clusters.flatMap((cluster) => (cluster.length > 1 && isNonEmpty(cluster) ? [cluster] : []));
}

/** What all of them hand out; undefined where there is nothing they share. */
export function commonRange([{ dhcp: head }, ...rest]: NonEmpty<DhcpEntry>): AddressRange | undefined {
  let { first, last } = head;
  for (const { dhcp } of rest) {
    if (dhcp.first > first) first = dhcp.first;
    if (dhcp.last < last) last = dhcp.last;
  }
  return first > last ? undefined : { first, last };
}

/** The longer of what is left of a range below and above all others. */
export function rangeWithout(range: AddressRange, others: readonly AddressRange[]): AddressRange | undefined {
  let low = range.last;
  let high = range.first;
  let below = true;
  let above = true;
  for (const other of others) {
    if (other.first <= range.first) below = false;
    else if (other.first <= low) low = step(other.first, -1);
    if (other.last >= range.last) above = false;
    else if (other.last >= high) high = step(other.last, 1);
  }
  const size = (from: Address, to: Address): bigint => BigInt(to) - BigInt(from);
  if (below && (!above || size(range.first, low) >= size(high, range.last))) return { first: range.first, last: low };
  return above ? { first: high, last: range.last } : undefined;
}

function step(address: Address, by: 1 | -1): Address {
  return typeof address === 'number' ? address + by : address + BigInt(by);
}

/** Rigs that share a VLAN for good may both write down its one server; rigs that a join brings together each have one. */
export function mayBeOneServer([head, ...rest]: NonEmpty<DhcpEntry>): boolean {
  return rest.every(
    ({ vlan, dhcp }) =>
      dhcp.first === head.dhcp.first &&
      dhcp.last === head.dhcp.last &&
      (vlan.joinedAs === undefined || vlan.joinedAs !== head.vlan.joinedAs),
  );
}
