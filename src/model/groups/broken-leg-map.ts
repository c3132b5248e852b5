import type { Leg, Plan, Sender } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import { imageOf } from './leg-map.js';
import { type LegPair, type WrongEntry, wrongEntries } from './wrong-entries.js';

/** A stream whose second leg does not follow from its first as the conventions promise. */
export interface BrokenLegMap {
  readonly first: Leg;
  readonly second: Leg;
  /** The group the conventions derive for the second leg, where it has another one. */
  readonly group: Address | undefined;
  /** The UDP port the conventions derive for it, where it has another one. */
  readonly port: number | undefined;
}

/** `offPort`: the second leg's port is known not to follow; a cheap look that spares most streams of a large plan. */
export function brokenLegMap({ legs, rig }: Sender, offPort: boolean): BrokenLegMap | undefined {
  const [first, second] = legs;
  if (first?.group === undefined || second?.group === undefined) return undefined;
  const { groupMap, portOffset } = rig.conventions;
  const image = groupMap.length === 0 ? undefined : imageOf(first.group, groupMap);
  // Conventions that map some blocks says nothing about pairs outside them.
  if (groupMap.length > 0 && image === undefined) return undefined;
  const group = image === undefined || image === second.group ? undefined : image;
  const port = offPort ? wantedPort(first, second, portOffset) : undefined;
  return group === undefined && port === undefined ? undefined : { first, second, group, port };
}

function wantedPort(first: Leg, second: Leg, offset: number | undefined): number | undefined {
  if (offset === undefined || first.port === undefined || second.port === undefined) return undefined;
  return second.port === first.port + offset ? undefined : first.port + offset;
}

/** Entries of the map of groups that no stream keeps. */
export function wrongGroupEntries(
  { senders }: Plan,
  broken: readonly BrokenLegMap[],
): readonly WrongEntry<BrokenLegMap>[] {
  return wrongEntries(
    broken.filter(({ group }) => group !== undefined),
    ({ first, second }) => groupsOf(first, second),
    () => senders.map(({ legs: [first, second] }) => groupsOf(first, second)),
  );
}

function groupsOf(first: Leg | undefined, second: Leg | undefined): LegPair | undefined {
  if (first?.group === undefined || second?.group === undefined) return undefined;
  return { first: first.group, second: second.group, map: first.sender.rig.conventions.groupMap };
}
