/** From a request to a plan with every number, or to what is in the way and the one change that would help. */
import type { Plan } from '../plan/types.js';
import { resolvePlan } from '../plan/resolve/index.js';
import type { RawPlan } from '../read/raw-plan.js';
import { textDocument } from '../source/text-document.js';
import { assign } from './assign.js';
import { buildPlan, type Decided } from './build.js';
import { readClear } from './clear.js';
import type { Demand, LineDemand } from './demand.js';
import { readDemand } from './read-demand.js';
import { addressAnchors, groupAnchors, readFixed, type Fixed } from './fixed.js';
import { fullnessOf, type Fullness } from './fullness.js';
import { planGroups } from './group-blocks.js';
import { readKept, type Kept } from './kept.js';
import { layOut, type Layout } from './layout.js';
import { notesOn } from './notes.js';
import { patch } from './patch.js';
import type { HostNumbering } from './pattern.js';
import type { NumberRange } from './ranges.js';
import { isRefused, refused, withChange, type Refusal, type Refused, type RequestChange } from './refusal.js';
import type { RawRequest } from './request.js';
import { firstUnitFor, reserve, reservedNumbers } from './reserve.js';
import { streamNeed, streamNumbers } from './streams.js';
import { planSubnets } from './subnets.js';
import { planVlanIds } from './vlan-ids.js';

export interface Surroundings {
  /** Plans to keep clear of. */
  readonly plans?: readonly Plan[];
  /** Trees of an earlier allocation, whose numbers hold. */
  readonly keep?: readonly RawPlan[];
}

export interface Allocation {
  readonly plan: RawPlan;
  readonly fullness: readonly Fullness[];
  /** What the engineer ought to know: boxes outside their block, blocks that were outgrown. */
  readonly notes: readonly string[];
}

/** The refusal as it is told: with the first change that was tried and found to do. */
export interface ToldRefusal extends Omit<Refusal, 'changes'> {
  readonly change: RequestChange | undefined;
}

export type Outcome = Allocation | { readonly refusals: readonly ToldRefusal[] };

/** Allocates. Never a part of a plan: either all numbers or the reasons. */
export function allocate(request: RawRequest, surroundings: Surroundings = {}): Outcome {
  const result = tryAllocate(request, surroundings);
  if (!isRefused(result)) return result;
  const { refusals } = result;
  const told = refusals.map(({ changes, ...refusal }, index): ToldRefusal => ({
    ...refusal,
    change: index >= MOST_TRIED ? undefined : changeThatHelps(changes, refusals, request, surroundings),
  }));
  return { refusals: told };
}

/** Each change that is proposed has been tried, which takes as long as allocating. */
const MOST_TRIED = 5;

/** The first change that helps; of moves, with the further ones that turn out to be needed. */
function changeThatHelps(
  changes: readonly RequestChange[],
  refusals: readonly Refusal[],
  request: RawRequest,
  surroundings: Surroundings,
): RequestChange | undefined {
  for (const first of changes) {
    let change: RequestChange | undefined = first;
    for (let tries = 0; change !== undefined && tries < MOST_MOVES; tries++) {
      if (helps(change, refusals, request, surroundings)) return change;
      change = furtherMove(change, request, surroundings);
    }
  }
  return undefined;
}

/** Where one thing that moves makes another one move, both together; undefined for changes of other kinds. */
function furtherMove(
  change: RequestChange,
  request: RawRequest,
  surroundings: Surroundings,
): RequestChange | undefined {
  if (change.path[0] !== 'moves') return undefined;
  const result = tryAllocate(withChange(request, change), surroundings);
  const [only, ...more] = isRefused(result) ? result.refusals : [];
  return more.length > 0 ? undefined : only?.changes.find(({ path }) => path[0] === 'moves');
}

/** So many things are let move together at most. */
const MOST_MOVES = 8;

/** Whether the request with a change is met, or has one reason less against it and no new one. */
function helps(
  change: RequestChange,
  refusals: readonly Refusal[],
  request: RawRequest,
  surroundings: Surroundings,
): boolean {
  const result = tryAllocate(withChange(request, change), surroundings);
  if (!isRefused(result)) return true;
  const before = new Set(refusals.map(({ what }) => what));
  return result.refusals.length < refusals.length && result.refusals.every(({ what }) => before.has(what));
}

function tryAllocate(request: RawRequest, { plans = [], keep = [] }: Surroundings): Allocation | Refused {
  const demand = readDemand(request);
  if (isRefused(demand)) return demand;
  const { practice, problems } = practiceOf(request);
  const { clear, refusals } = readClear(request, plans, practice);
  const { fixed, refusals: wrong } = readFixed(demand);
  const kept = keep.length === 0 ? undefined : readKept(keep);
  const namesake = plans.some(({ rigs }) => rigs.some(({ name }) => name === request.rig));
  const all = [
    ...problems,
    ...refusals,
    ...wrong,
    ...(namesake
      ? [{ what: `a plan to be kept clear of names the same rig, ${request.rig}`, at: ['rig'], changes: [] }]
      : []),
    ...(keep.length > 0 && kept === undefined
      ? [
          {
            what: 'the plan to keep has no `numbering`: it was not allocated, so nothing tells how its numbers are made up',
            at: [],
            changes: [],
          },
        ]
      : []),
    ...emptyVlans(demand),
    ...leaderless(demand),
  ];
  if (all.length > 0) return { refusals: all };
  let best: Refused | undefined;
  for (const attempt of attemptsFor(request, kept)) {
    const result = decide(attempt, { demand, practice, clear, fixed, kept });
    if (!isRefused(result))
      return { plan: buildPlan(result), fullness: fullnessOf(result), notes: notesOn(result, plans) };
    // What is not a matter of room no other way of counting will mend.
    if (result.refusals.some(({ short }) => short === undefined)) return result;
    if (best === undefined || missing(result) < missing(best)) best = result;
  }
  return best ?? refused();
}

/** How much is short; the way of counting that comes nearest is told. */
function missing({ refusals }: Refused): number {
  return refusals.reduce((sum, { short }) => sum + (short === undefined ? 0 : short.needed - short.has), 0);
}

interface Attempt {
  readonly hosts: HostNumbering;
  readonly tens: boolean;
  readonly slack: number;
  readonly anywhere: boolean;
}

/** The most readable way first, the densest last. */
function attemptsFor({ pattern }: RawRequest, kept: Kept | undefined): readonly Attempt[] {
  const hosts = kept?.hosts ?? pattern?.hosts;
  const all: readonly Attempt[] = [
    { hosts: 'unit', tens: true, slack: 0, anywhere: false },
    { hosts: 'unit', tens: true, slack: 16, anywhere: false },
    { hosts: 'unit', tens: false, slack: 0, anywhere: false },
    { hosts: 'unit', tens: false, slack: 16, anywhere: false },
    { hosts: 'unit', tens: false, slack: 0, anywhere: true },
    { hosts: 'unit', tens: false, slack: 300, anywhere: true },
    { hosts: 'place', tens: false, slack: 0, anywhere: true },
    { hosts: 'place', tens: false, slack: 300, anywhere: true },
  ];
  return all.filter((one) => hosts === undefined || one.hosts === hosts);
}

interface Facts {
  readonly demand: Demand;
  readonly practice: Parameters<typeof readClear>[2];
  readonly clear: ReturnType<typeof readClear>['clear'];
  readonly fixed: Fixed;
  readonly kept: Kept | undefined;
}

function decide({ hosts, tens, slack, anywhere }: Attempt, facts: Facts): Decided | Refused {
  const { demand, practice, clear, fixed, kept } = facts;
  const { earlier, goneBlocks, highest } = earlierBlocks(demand, kept);
  const lowest = Math.min(...[...earlier.values()].flat().map(({ first }) => first));
  const firstUnit = Math.min(firstUnitFor(demand), lowest);
  const planned = layOut(demand, { firstUnit, tens, slack, earlier, highest });
  const layout: Layout = {
    ...planned,
    last: Math.max(planned.last, ...[...fixed.units.values()].map(({ unit }) => unit)),
  };
  const subnets = planSubnets({ demand, clear, kept, layout, hosts, anchors: addressAnchors(fixed) });
  if (isRefused(subnets)) return subnets;
  const ids = planVlanIds(demand, clear, kept);
  if (isRefused(ids)) return ids;
  const reserved = reserve(demand, subnets, clear, kept, firstUnit);
  if (isRefused(reserved)) return reserved;
  const need = { units: layout.last, ...streamNeed(demand.kinds, kept) };
  const groups = planGroups({ demand, clear, kept, practice, need, anchors: groupAnchors(fixed) });
  if (isRefused(groups)) return groups;
  const samePattern = kept?.pattern?.streams === groups.pattern.streams;
  const streams = streamNumbers(demand.kinds, groups.pattern.streams, samePattern ? kept : undefined) ?? new Map();
  const patching = patch(demand, kept);
  if (isRefused(patching)) return patching;
  const assignment = assign({
    demand,
    clear,
    kept,
    fixed,
    layout,
    groups,
    streams,
    subnets,
    hosts,
    anywhere,
    reserved: new Map([...reserved].map(([vlan, one]) => [vlan, reservedNumbers(one)])),
  });
  if (isRefused(assignment)) return assignment;
  return { demand, hosts, layout, groups, subnets, ids, reserved, assignment, patching, goneBlocks };
}

/** Blocks of the earlier plan by line, those of lines that are gone, and the highest number among all. */
function earlierBlocks(
  demand: Demand,
  kept: Kept | undefined,
): {
  readonly earlier: ReadonlyMap<LineDemand, readonly NumberRange[]>;
  readonly goneBlocks: Decided['goneBlocks'];
  readonly highest: number;
} {
  const moves = new Set(demand.request.moves ?? []);
  const key = (devices: string, area: string | undefined): string => `${devices}/${area ?? ''}`;
  const byKey = new Map(demand.lines.map((line) => [key(line.raw.name, line.raw.area), line]));
  const earlier = new Map<LineDemand, NumberRange[]>();
  const goneBlocks: Decided['goneBlocks'][number][] = [];
  let highest = 0;
  for (const block of kept?.blocks ?? []) {
    highest = Math.max(highest, block.last);
    const line = byKey.get(key(block.devices, block.area));
    if (line === undefined) goneBlocks.push(block);
    else if (!moves.has(line.raw.name))
      earlier.set(line, [...(earlier.get(line) ?? []), { first: block.first, last: block.last }]);
  }
  for (const { unit } of [...(kept?.devices.values() ?? []), ...(kept?.held.values() ?? [])])
    highest = Math.max(highest, unit ?? 0);
  return { earlier, goneBlocks, highest };
}

/** Clocks that follow need one that leads: a device of a kind that is meant to, or one the request names. */
function leaderless({ request, lines }: Demand): readonly Refusal[] {
  const kinds = [...new Set(lines.map(({ kind }) => kind.raw))].filter(
    ({ ptp }) => ptp !== undefined && ptp.mode !== 'none',
  );
  const led = kinds.some(({ ptp }) => ptp?.grandmaster === true) || (request.clock?.grandmasters ?? []).length > 0;
  const [first] = kinds;
  if (first === undefined || led) return [];
  return [
    {
      what: `clocks of kind ${first.name} follow, and the request has no grandmaster`,
      at: ['kinds', request.kinds.indexOf(first), 'ptp'],
      changes: [],
    },
  ];
}

function emptyVlans(demand: Demand): readonly Refusal[] {
  const used = new Set(demand.lines.flatMap(({ kind }) => kind.interfaces.map(({ vlan }) => vlan)));
  return demand.networks.flatMap((network) =>
    network.switches.length > 0
      ? []
      : network.vlans
          .filter((vlan) => !used.has(vlan))
          .map((vlan): Refusal => {
            const index = (demand.request.vlans ?? []).findIndex(({ name }) => name === vlan.name);
            const at = index < 0 ? ['networks', network.index] : ['vlans', index];
            return {
              what: `nothing stands in VLAN ${vlan.name}`,
              at,
              changes: [{ path: at, value: undefined, words: 'take it out' }],
            };
          }),
  );
}

/** The practice a plan with these words would follow. */
function practiceOf({ rig, practice }: RawRequest): {
  readonly practice: Parameters<typeof readClear>[2];
  readonly problems: readonly Refusal[];
} {
  const value: RawPlan = practice === undefined ? { rig } : { rig, practice };
  const resolved = resolvePlan([
    textDocument({ name: 'request', format: 'json', text: '', value, spans: () => new Map() }),
  ]);
  const [own] = resolved.plan.rigs;
  const problems = resolved.problems.map((problem) => ({ what: problem.what, at: ['practice'], changes: [] }));
  if (own === undefined) throw new Error('a plan without a rig was resolved');
  return { practice: own.practice, problems };
}
