/** What ports and links carry: tagged and untagged VLANs, and what the crew calls a link. */
import type { Link, LinkEnd, Port, Switch, Vlan } from '../../plan/types.js';

/** VLANs a port names, `all` naming none: which VLANs that is depends on the switch. */
export function vlansOfPort(port: Port): readonly Vlan[] {
  const tagged = port.trunk === undefined || port.trunk === 'all' ? [] : port.trunk;
  return [
    ...(port.access === undefined ? [] : [port.access]),
    ...tagged,
    ...(port.native === undefined ? [] : [port.native]),
  ];
}

/** Whether the plan states any VLAN of a port. */
export function saysVlans(port: Port): boolean {
  return port.access !== undefined || port.trunk !== undefined || port.native !== undefined;
}

/** The VLAN a port sends and takes without a tag. */
export function untagged(port: Port | undefined): Vlan | undefined {
  return port?.access ?? port?.native;
}

/** The VLANs a port is said to carry with a tag; a native VLAN listed in the trunk goes without one. */
export function tagged(port: Port): readonly Vlan[] {
  const list = port.trunk === undefined || port.trunk === 'all' ? [] : port.trunk;
  return port.native === undefined ? list : list.filter((vlan) => vlan !== port.native);
}

/** Whether a port carries a VLAN, tagged or not; a port of which nothing is stated may. */
export function mayCarry(port: Port, vlan: Vlan): boolean {
  if (port.access === vlan) return true; // most ports of a large plan
  return !saysVlans(port) || port.trunk === 'all' || vlansOfPort(port).some((other) => tagOf(other) === tagOf(vlan));
}

/** What tells VLANs apart on a trunk, equal for those that are one. */
export type Tag = number | object;

/**
 * The 802.1Q id, or the entry itself where the plan gives no id. Entries that a join makes one VLAN get one id before
 * they are patched together, so they count as one whatever their ids are today.
 */
export function tagOf(vlan: Vlan): Tag {
  return vlan.joinedAs ?? vlan.id ?? vlan;
}

/**
 * Whether two VLAN entries mean one VLAN: one entry, or the entries two rigs make of a VLAN they share. Equal subnets
 * decide where both are stated, equal names otherwise.
 */
export function sameMeaning(a: Vlan, b: Vlan): boolean {
  if (a === b) return true;
  if (a.rig === b.rig) return false;
  if (a.joinedAs !== undefined && a.joinedAs === b.joinedAs) return true;
  if (a.subnet !== undefined && b.subnet !== undefined)
    return a.subnet.network === b.subnet.network && a.subnet.length === b.subnet.length;
  return a.name === b.name;
}

/** `R02`, or its two ends for a link without a name. */
export function linkLabel(link: Link): string {
  return link.name ?? linkEnds(link);
}

/** `core-red/49 to leaf-red/1`, whichever end is written first: names no other link, as two rigs may both have an `R02`. */
export function linkEnds(link: Link): string {
  return [...link.ends]
    .map((end) => end.text)
    .sort()
    .join(' to ');
}

/** `leaf-a/12`. */
export function portLabel(port: Port): string {
  return `${port.switch.name}/${port.name}`;
}

/** A link end with what is known of it. */
export interface KnownEnd extends LinkEnd {
  readonly switch: Switch;
  readonly port: Port;
}

/** Both ends of a link in the order of their names, or undefined where one leads nowhere. */
export function knownEnds(link: Link): readonly [KnownEnd, KnownEnd] | undefined {
  const [a, b] = link.ends;
  if (!isKnown(a) || !isKnown(b)) return undefined;
  return a.text <= b.text ? [a, b] : [b, a];
}

/**
 * A circuit bought or borrowed: its rate and MTU are the provider's, not the ports'. A link that states a delay, or a
 * medium that is no cable of the crew's own, is one.
 */
export function isCircuit(link: Link): boolean {
  return (
    link.delayNs !== undefined ||
    (link.medium !== undefined && /\b(wan|circuit|leased|radio|microwave|satellite|provider)\b/i.test(link.medium))
  );
}

function isKnown(end: LinkEnd): end is KnownEnd {
  return end.switch !== undefined && end.port !== undefined;
}
