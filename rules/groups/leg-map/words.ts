import type { MapEntryFacts } from '../../../src/doors/cures.js';
import { legLabel, listNames, type FindingWords, type Leg } from '../../../src/doors/rule.js';
import { withGroup } from '../../../src/doors/groups.js';

export interface Facts {
  readonly first: Leg;
  readonly second: Leg;
  /** More than one where their kind states the ports; the legs are then those of one of them. */
  readonly senders: readonly string[];
  /** Of the two legs; absent where a kind is at fault, and groups are not. */
  readonly groups: readonly [string, string] | undefined;
  readonly ports: readonly [number | undefined, number | undefined];
  /** What the conventions map the first leg's group to, and why the second leg can't have it; absent where groups are right. */
  readonly group:
    { readonly wanted: string; readonly taken: 'outside-ranges' | { readonly by: Leg } | undefined } | undefined;
  /** UDP port the second leg should have; absent where ports are right. */
  readonly port: number | undefined;
  /** The entry of the map that none of them keeps, and the block they all agree on; absent where streams are at fault. */
  readonly entry: MapEntryFacts | undefined;
}

/** Places are noted with their group or port. */
export function words({ second, senders, groups, ports, group, port, entry }: Facts): FindingWords<string> {
  if (entry !== undefined)
    return {
      what: `the conventions map ${entry.first} to ${entry.second}, but ${entry.side} legs of all ${senders.length} streams ${entry.side === 'second' ? 'from there' : 'that go there'} lie in ${entry.should}: ${listNames(senders)}`,
      onAir:
        'receivers set up by the convention rule join second legs that nobody sends: they run on one leg, and lose the stream when that one fails',
      fix: `write ${entry.should} as the \`${entry.side}\` of that entry, or move the ${entry.side} legs to ${entry[entry.side]}`,
      brief: `no stream keeps ${entry[entry.side]} of the map`,
    };
  const faults = [
    ...(group === undefined || groups === undefined
      ? []
      : [`has group ${groups[1]} where the conventions map ${groups[0]} to ${group.wanted}`]),
    ...(port === undefined
      ? []
      : [`has UDP port ${String(ports[1])} where ${String(ports[0])} on leg 1 asks for ${port}`]),
  ];
  return {
    what: `${senders.length > 1 ? `leg 2 of ${listNames(senders)}` : legLabel(second)} ${faults.join(', and ')}`,
    onAir:
      'receivers set up by the convention rule join the wrong second leg: they run on one leg, and lose the stream when that one fails',
    fix: fixes(group, port).join('; '),
    label: withGroup,
  };
}

function fixes(group: Facts['group'], port: number | undefined): readonly string[] {
  const set = [
    ...(group === undefined || group.taken !== undefined ? [] : [`group ${group.wanted}`]),
    ...(port === undefined ? [] : [`port ${port}`]),
  ];
  const taken = group?.taken;
  const why =
    taken === undefined
      ? undefined
      : taken === 'outside-ranges'
        ? 'is outside the ranges for leg 2'
        : `belongs to ${legLabel(taken.by)}`;
  return [
    ...(set.length === 0 ? [] : [`set leg 2 to ${listNames(set)}`]),
    ...(why === undefined
      ? []
      : [`give the stream another pair of groups that fit the map: ${group?.wanted ?? ''} ${why}`]),
  ];
}
