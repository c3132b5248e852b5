import type { Link, Vlan } from '../../plan/types.js';
import { knownEnds, sameMeaning, saysVlans, tagged, tagOf, untagged, type KnownEnd } from './trunks.js';

/** In what the two ends of a link disagree. */
export interface LinkDifference {
  readonly ends: readonly [KnownEnd, KnownEnd];
  /** Per end, the tagged VLANs that the other end or the link itself carries and this end does not. */
  readonly missing: readonly { readonly end: KnownEnd; readonly vlans: readonly Vlan[] }[];
  /** What each end sends without a tag, where the two do not fit; in the order of `ends`. */
  readonly untagged: readonly [Vlan | undefined, Vlan | undefined] | undefined;
}

/** Undefined where the ends agree, or where the plan does not state what they carry. */
export function linkDifference(link: Link): LinkDifference | undefined {
  const ends = knownEnds(link);
  if (ends === undefined) return undefined;
  const plain = untaggedDifference(ends);
  const missing = missingAt(link, ends, plain);
  return plain === undefined && missing.length === 0 ? undefined : { ends, missing, untagged: plain };
}

function untaggedDifference([a, b]: readonly [KnownEnd, KnownEnd]): LinkDifference['untagged'] {
  const here = untagged(a.port);
  const there = untagged(b.port);
  if (here !== undefined && there !== undefined) {
    // One id under two entries is a fault of the ids, not of this link.
    const oneId = here.id !== undefined && here.id === there.id;
    return oneId || sameMeaning(here, there) ? undefined : [here, there];
  }
  if (here !== undefined && lacksUntagged(a, here, b)) return [here, undefined];
  if (there !== undefined && lacksUntagged(b, there, a)) return [undefined, there];
  return undefined;
}

/** An unstated native VLAN is a missing fact, unless the port cannot but drop what comes without a tag. */
function lacksUntagged(sends: KnownEnd, vlan: Vlan, takes: KnownEnd): boolean {
  if (!saysVlans(takes.port)) return false;
  return sends.port.access !== undefined || tagged(takes.port).some((other) => tagOf(other) === tagOf(vlan));
}

function missingAt(
  link: Link,
  ends: readonly [KnownEnd, KnownEnd],
  plain: LinkDifference['untagged'],
): LinkDifference['missing'] {
  // An access port against a trunk is one fault; the list of all that it does not carry would only repeat it.
  if (plain !== undefined && ends.some((end) => end.port.trunk === undefined)) return [];
  const aside = new Set((plain ?? []).flatMap((vlan) => (vlan === undefined ? [] : [tagOf(vlan)])));
  return ends.flatMap((end, index) => {
    if (!saysVlans(end.port) || end.port.trunk === 'all') return [];
    const other = ends[1 - index];
    const carries = new Set([...tagged(end.port), ...list(untagged(end.port))].map(tagOf));
    const wanted = link.vlans ?? (other === undefined ? [] : tagged(other.port));
    const vlans = [...new Map(wanted.map((vlan) => [tagOf(vlan), vlan])).values()].filter(
      (vlan) => !carries.has(tagOf(vlan)) && !aside.has(tagOf(vlan)),
    );
    return vlans.length === 0 ? [] : [{ end, vlans }];
  });
}

function list(vlan: Vlan | undefined): readonly Vlan[] {
  return vlan === undefined ? [] : [vlan];
}
