/** What happens where the rigs meet, whether it is a fault or not: who leads the clocks, who queries, who numbers where. */
import { addTo } from '../collections/group-by.js';
import { formatAddress, formatRange, type AddressRange } from '../values/address.js';
import type { ConventionGroups, Plan, Rig } from '../plan/types.js';
import type { Model } from '../model/model.js';
import { type Candidate, electionWinner } from '../model/network/index.js';

/** A thing and the rig it belongs to. */
export interface OfRig {
  readonly name: string;
  readonly rig: string;
}

/** Clocks of several rigs that hear each other from now on. */
export interface ClockMeeting {
  readonly domain: number;
  /** Those that others follow once the rigs are joined; one is what is wanted. */
  readonly leaders: readonly OfRig[];
  /** Clocks that had another grandmaster before, by rig: all of them step. */
  readonly step: readonly { readonly rig: string; readonly clocks: number; readonly from: string }[];
}

/** Planned queriers of several rigs in one VLAN. */
export interface QuerierMeeting {
  readonly where: string;
  readonly winner: OfRig & { readonly address: string };
  /** They fall silent, and take over when the winner is gone. */
  readonly silent: readonly OfRig[];
}

/** Groups that several conventions hand out where the rigs meet. */
export interface RangeMeeting {
  readonly range: string;
  readonly rigs: readonly string[];
}

export interface Meeting {
  readonly clocks: readonly ClockMeeting[];
  /** PTP domains by rig, where no clock of one rig hears one of another: each keeps its own time. */
  readonly timeApart: readonly { readonly rig: string; readonly domains: readonly number[] }[];
  readonly queriers: readonly QuerierMeeting[];
  readonly ranges: readonly RangeMeeting[];
}

/** `alone`: the model of each rig by itself, for what it changes. */
export function meetingOf(joined: Model, alone: readonly Model[]): Meeting {
  const clocks = clockMeetings(joined, alone);
  return {
    clocks,
    timeApart: clocks.length > 0 ? [] : domainsByRig(joined),
    queriers: querierMeetings(joined),
    ranges: rangeMeetings(joined),
  };
}

function clockMeetings(joined: Model, alone: readonly Model[]): readonly ClockMeeting[] {
  const before = new Map<string, string>();
  for (const { timing } of alone) {
    for (const { election } of timing.groups)
      for (const { clock, grandmaster } of election.outcomes.values()) before.set(clockKey(clock), grandmaster.name);
  }
  return joined.timing.groups.flatMap(({ domain, islands, election }) =>
    islands.flatMap((island): readonly ClockMeeting[] => {
      if (new Set(island.clocks.map(({ rig }) => rig)).size < 2) return [];
      const step = new Map<string, { readonly rig: string; clocks: number; readonly from: string }>();
      for (const clock of island.clocks) {
        const from = before.get(clockKey(clock));
        const now = election.outcomes.get(clock)?.grandmaster;
        if (from === undefined || now === undefined || (now.name === from && now.rig === clock.rig)) continue;
        const key = `${clock.rig.name}\n${from}`;
        const known = step.get(key);
        if (known === undefined) step.set(key, { rig: clock.rig.name, clocks: 1, from });
        else known.clocks++;
      }
      return [
        {
          domain,
          leaders: island.leaders.map(({ clock }) => ofRig(clock)),
          step: [...step.values()].sort((a, b) => b.clocks - a.clocks || (a.from < b.from ? -1 : 1)),
        },
      ];
    }),
  );
}

/** Empty unless several rigs have clocks. */
function domainsByRig({ timing }: Model): Meeting['timeApart'] {
  const found = new Map<string, Set<number>>();
  for (const { rig, domain } of timing.clocks) {
    addTo(found, rig.name, domain);
  }
  if (found.size < 2) return [];
  return [...found]
    .map(([rig, domains]) => ({ rig, domains: [...domains].sort((a, b) => a - b) }))
    .sort((a, b) => (a.rig < b.rig ? -1 : 1));
}

function clockKey({ name, rig, domain }: OfRigEntity & { readonly domain: number }): string {
  return `${rig.name}\n${name}\n${domain}`;
}

function querierMeetings({ groupSegments }: Model): readonly QuerierMeeting[] {
  return groupSegments.flatMap((segment): readonly QuerierMeeting[] => {
    const winner = electionWinner(segment.candidates, segment.protocol);
    if (winner?.on === undefined || winner.address === undefined) return [];
    const meant = segment.candidates.filter(
      (one): one is Candidate & { on: NonNullable<Candidate['on']> } => one.intended && one.on !== undefined,
    );
    if (new Set(meant.map(({ on }) => on.rig)).size < 2) return [];
    return [
      {
        where: segment.domain.title,
        winner: { ...ofRig(winner.on), address: formatAddress(winner.address) },
        silent: meant.filter(({ on }) => on !== winner.on).map(({ on }) => ofRig(on)),
      },
    ];
  });
}

/** Overlaps of the conventions' ranges on networks that meet, each once, in address order. */
function rangeMeetings({ plan, domains }: Model): readonly RangeMeeting[] {
  const found = new Map<string, { readonly range: AddressRange; readonly rigs: Set<string> }>();
  const promises = plan.rigs.flatMap((rig) =>
    rig.conventions.groups.flatMap((promise) =>
      promise.ranges.map((range) => ({
        rig,
        range,
        reach: placesOf(promise, rig, plan).map((at) => domains.reach(at)),
      })),
    ),
  );
  promises.sort((a, b) => compare(a.range.first, b.range.first));
  let open: typeof promises = [];
  for (const one of promises) {
    open = open.filter(({ range }) => range.last >= one.range.first);
    for (const other of open) {
      if (other.rig === one.rig || typeof other.range.first !== typeof one.range.first) continue;
      if (!one.reach.some((domain) => other.reach.includes(domain))) continue;
      const last = other.range.last < one.range.last ? other.range.last : one.range.last;
      const range = { first: one.range.first, last };
      const key = formatRange(range);
      const known = found.get(key) ?? { range, rigs: new Set<string>() };
      known.rigs.add(other.rig.name).add(one.rig.name);
      found.set(key, known);
    }
    open.push(one);
  }
  return [...found.values()]
    .sort((a, b) => compare(a.range.first, b.range.first))
    .map(({ range, rigs }) => ({ range: formatRange(range), rigs: [...rigs].sort() }));
}

/** Where the groups of a promise are sent: in its VLAN or network, else anywhere in the rig. */
function placesOf(
  { vlan, network }: ConventionGroups,
  rig: Rig,
  plan: Plan,
): readonly Parameters<Model['domains']['reach']>[0][] {
  if (vlan !== undefined) return [{ vlan, network: vlan.network }];
  return plan.vlans
    .filter((one) => one.rig === rig && (network === undefined || one.network === network))
    .map((one) => ({ vlan: one, network: one.network }));
}

function compare(a: number | bigint, b: number | bigint): number {
  return typeof a === typeof b ? (a < b ? -1 : a > b ? 1 : 0) : typeof a === 'number' ? -1 : 1;
}

interface OfRigEntity {
  readonly name: string;
  readonly rig: Rig;
}

function ofRig({ name, rig }: OfRigEntity): OfRig {
  return { name, rig: rig.name };
}
