/**
 * What takes a stream that comes through routers: those find another way where there is one, so each thing on the way is
 * tried out. What is not on it changes nothing: a router keeps the way it has while that is there.
 */
import type { Link, Switch, Device } from '../../plan/types.js';
import { kept } from '../../collections/kept.js';
import { isIPv4 } from '../../values/address.js';
import { isNonEmpty } from '../../collections/non-empty.js';
import { isBoundAlong } from './bound-detours.js';
import type { Network } from './flows.js';
import { planeOf, type ForwardingSegment } from './ground.js';
import { remainsOf, type Remains, type Removal } from './remains.js';
import { addBetween, type ElementKeys } from './starvation.js';
import { lasts, type Way } from './way.js';

/** What can fail, as keys that say what goes with them. */
export interface FailingKeys<Key> extends ElementKeys<Key> {
  readonly thingOf: (key: Key) => Switch | Link | Device | undefined;
}

export interface RoutedLosses<Key> {
  /** Everything that alone leaves no way. */
  readonly cutting: (way: Way) => ReadonlySet<Key>;
  /** Whether one loss opens a way that a spanning tree keeps blocked. */
  readonly opens: (way: Way, key: Key) => boolean;
  /** Whether what is left has a way that the stream lasts for. */
  readonly survives: (way: Way, remains: Remains) => boolean;
}

export function createRoutedLosses<Key>(network: Network, keys: FailingKeys<Key>): RoutedLosses<Key> {
  const numbers = new Map<ForwardingSegment, number>(network.forwardings.map((one, number) => [one, number]));
  const cuts = new Map<string, ReadonlySet<Key>>();
  const without = new Map<Key, Remains>();
  const answers = new Map<Remains, Map<string, boolean>>();

  /** Ways of one key stand and fall together. */
  const keyOf = ({ leg: { group, ttl }, stages, from, to }: Way): string => {
    const [first] = stages;
    const last = stages.at(-1) ?? first;
    const four = group === undefined || isIPv4(group);
    const ends = [numbers.get(first.forwarding), first.from, numbers.get(last.forwarding), last.to, ttl ?? '-'];
    // Tables of bound groups know each group, and the ports of its ends.
    const bound = stages.some(({ forwarding }) => planeOf(forwarding, group).byHand !== undefined);
    return `${ends.join(' ')}${four ? '' : ' 6'}${bound ? ` ${String(group)} ${portName(from)} ${portName(to)}` : ''}`;
  };
  const survives = (way: Way, remains: Remains): boolean =>
    kept(
      kept(answers, remains, () => new Map<string, boolean>()),
      keyOf(way),
      () => {
        const { leg, stages } = way;
        const [first] = stages;
        const last = stages.at(-1) ?? first;
        const found = remains
          .routing()
          .way(
            { forwarding: first.forwarding, node: first.from },
            { forwarding: last.forwarding, node: last.to },
            leg.group === undefined || isIPv4(leg.group),
          );
        if (found.kind !== 'way' || !lasts(leg, found.stages) || !isNonEmpty(found.stages)) return false;
        const anew: Way = { ...way, stages: found.stages };
        return found.stages.every((stage) => isBoundAlong(remains.treeOf, stage, anew, remains.isLost));
      },
    );
  const onWay = (way: Way): ReadonlySet<Key> => {
    const { stages, served } = way;
    const found = new Set<Key>();
    const cross = (forwarding: ForwardingSegment, from: number, to: number): void => {
      for (const node of [from, to]) found.add(keys.switch(forwarding, node));
      addBetween(found, forwarding, from, to, keys);
      // Tables of bound groups do not follow the tree round a failure.
      if (planeOf(forwarding, way.leg.group).byHand === undefined) return;
      for (const { edge, to: node } of forwarding.tree.path(from, to) ?? []) {
        found.add(keys.switch(forwarding, node));
        for (const link of edge.links) found.add(keys.link(link));
      }
    };
    const last = stages.at(-1);
    for (const { forwarding, from, to, router } of stages) {
      cross(forwarding, from, to);
      if (router !== undefined && 'interfaces' in router) found.add(keys.device(router));
    }
    if (served !== undefined && last !== undefined) {
      cross(last.forwarding, last.to, served.node);
      if ('interfaces' in served.on) found.add(keys.device(served.on));
    }
    return found;
  };
  /** Undefined where the loss is of no box and no link. */
  const standsWithout = (way: Way, key: Key): boolean | undefined => {
    const removal = removalOf(keys.thingOf(key));
    if (removal === undefined) return undefined;
    return survives(
      way,
      kept(without, key, () => remainsOf(removal, network)),
    );
  };
  return {
    survives,
    opens: (way, key) => standsWithout(way, key) === true,
    cutting: (way) =>
      kept(cuts, keyOf(way), () => {
        const takes = (key: Key): boolean => standsWithout(way, key) === false;
        return new Set([...onWay(way)].filter(takes));
      }),
  };
}

function removalOf(thing: Switch | Link | Device | undefined): Removal | undefined {
  if (thing === undefined) return undefined;
  return 'ends' in thing
    ? { boxes: new Set(), links: new Set([thing]) }
    : { boxes: new Set([thing]), links: new Set() };
}

function portName({ device, name }: Way['from']): string {
  return JSON.stringify([device.rig.name, device.name, name]);
}
