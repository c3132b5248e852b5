/**
 * Receptions that end some time after a failure: the stream still comes to their switch, but no query does any more, so
 * nobody renews the membership, and the switches forget it a membership interval after the last report (RFC 3376 §8.4,
 * RFC 3810 §9.4), which may still answer a query sent just before.
 */
import type { Device, Interface, Link, Switch } from '../../plan/types.js';
import { planeOf, type ForwardingSegment } from './ground.js';
import type { Way } from './way.js';
import type { Sink } from './plane.js';

/** What can fail, as keys; the same thing gives the same key. */
export interface ElementKeys<Key> {
  readonly switch: (forwarding: ForwardingSegment, node: number) => Key;
  readonly box: (one: Switch) => Key;
  readonly link: (link: Link) => Key;
  readonly device: (device: Device) => Key;
  readonly interface: (via: Interface) => Key;
}

export function keyOfThing<Key>(keys: Pick<ElementKeys<Key>, 'box' | 'link'>, thing: Switch | Link): Key {
  return 'ports' in thing ? keys.box(thing) : keys.link(thing);
}

/** Where elements are added to. */
export interface Found<Key> {
  readonly add: (key: Key) => unknown;
}

/** Adds the switches and single links without which two switches lose each other. */
export function addBetween<Key>(
  found: Found<Key>,
  forwarding: ForwardingSegment,
  from: number,
  to: number,
  keys: ElementKeys<Key>,
): void {
  if (forwarding.losses !== undefined) {
    for (const lost of forwarding.losses.between(from, to)) found.add(keyOfThing(keys, lost));
    return;
  }
  forwarding.cuts.visitBetween(from, to, {
    node: (node) => {
      found.add(keys.switch(forwarding, node));
    },
    edge: ({ links }) => {
      if (links.length === 1 && links[0] !== undefined) found.add(keys.link(links[0]));
    },
  });
}

/** Where a membership hangs on queries that come from outside its switch. */
export interface Hanging {
  readonly forwarding: ForwardingSegment;
  readonly at: number;
  readonly sources: readonly Sink[];
  readonly withinS: number;
}

/**
 * Undefined where a membership does not end with the queries: nobody knows who queries, or every switch on the way floods
 * what it does not know, or the stream comes by a router, which queries itself.
 */
export function hangingOf({ leg, stages: [only, ...others] }: Way): Hanging | undefined {
  if (others.length > 0) return undefined;
  const { forwarding, from, to } = only;
  const plane = planeOf(forwarding, leg.group);
  // Tables of bound groups forget nothing.
  const isSet = (node: number): boolean => plane.conduct.nodes[node]?.forwarding !== 'igmp';
  if (
    plane.byHand === undefined &&
    isSet(from) &&
    (forwarding.tree.path(from, to) ?? []).every((step) => isSet(step.to))
  )
    return undefined;
  if (plane.conduct.snooping !== true || plane.asking[to] !== 'heard' || plane.unplaced) return undefined;
  const { group } = leg;
  if (group === undefined || plane.floodsUnqueried(to)) return undefined;
  const { everywhere, somewhere } = plane.floodAround(to, group, true);
  if (everywhere !== undefined) return undefined;
  // In a loop the way after the failure may be another: there all switches must flood, as above.
  if (forwarding.parts.length === 0 && (somewhere || plane.floodsSomewhere(to))) {
    const floods = (node: number): boolean => plane.floodsForgotten(node, group);
    if (floods(from) && (forwarding.tree.path(from, to) ?? []).every((step) => floods(step.to))) return undefined;
  }
  return { forwarding, at: to, sources: plane.sources, withinS: plane.conduct.ageing.toS };
}

/** Elements without which no query comes to a membership, found once a switch. */
export function createStarvers<Key>(keys: ElementKeys<Key>): (hanging: Hanging) => ReadonlySet<Key> {
  const known = new Map<readonly Sink[], Map<number, ReadonlySet<Key>>>();
  return (hanging) => {
    const { sources, at } = hanging;
    let byNode = known.get(sources);
    if (byNode === undefined) known.set(sources, (byNode = new Map<number, ReadonlySet<Key>>()));
    let found = byNode.get(at);
    if (found === undefined) byNode.set(at, (found = common(hanging, keys)));
    return found;
  };
}

function common<Key>({ forwarding, at, sources }: Hanging, keys: ElementKeys<Key>): ReadonlySet<Key> {
  const perSource = sources
    .filter(({ node }) => forwarding.cuts.joined(at, node))
    .map(({ node, port, on }) => {
      const cut = new Set<Key>([keys.switch(forwarding, node)]);
      addBetween(cut, forwarding, at, node, keys);
      if (port !== undefined) cut.add(keys.interface(port));
      if (!('ports' in on)) cut.add(keys.device(on));
      return cut;
    });
  const [first, ...others] = perSource;
  const all = [...(first ?? [])].filter((key) => others.every((cut) => cut.has(key)));
  const { losses } = forwarding;
  if (losses === undefined) return new Set(all);
  // A turned tree may bring the queries of another part.
  const saved = new Set(
    losses
      .trials()
      .filter(({ lost }) => sources.some(({ node, on }) => on !== lost && losses.joinedWithout(lost, at, node)))
      .map(({ lost }) => keyOfThing(keys, lost)),
  );
  return new Set(all.filter((key) => !saved.has(key)));
}

/** Whether no source of queries is left where a membership hangs, by the parts a failure leaves of its segment. */
export function isStarved(
  { at, sources }: Pick<Hanging, 'at' | 'sources'>,
  component: Int32Array,
  gone: (source: Sink) => boolean,
): boolean {
  const here = component[at] ?? -1;
  if (here === -1) return false;
  for (const one of sources) if (component[one.node] === here && !gone(one)) return false;
  return true;
}
