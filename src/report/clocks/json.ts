/** The clocks for programs: one document in the shape of `schemas/clocks.schema.json`. */
import {
  advantageOf,
  type Clock,
  type ClockLoad,
  type Leader,
  type LossResult,
  type NamedLoss,
  type Span,
  type TakeoverTimes,
  type TimingGroup,
  type TimingState,
} from '../../model/timing/index.js';
import { formatClockIdentity } from '../../values/clock-identity.js';
import { stepValue } from '../../words/clocks.js';
import { CAUTION } from '../caution.js';
import { problemJson, toolJson } from '../common-json.js';
import type { ClocksResult } from '../../answers/clocks.js';

/** Keys come in a fixed order; lists are whole. */
export function clocksJson({ timing, problems, asked }: ClocksResult, version: string): object {
  return {
    format: 1,
    tool: toolJson(version),
    complete: problems.length === 0,
    ...(timing === undefined ? { domains: [], clocks: [] } : stateJson(timing)),
    losses: (timing === undefined || asked !== undefined ? [] : timing.failover).map(lossJson),
    loads: (timing?.loads ?? []).map(loadJson),
    asked: (asked ?? []).map((one) => ({ ...lossJson(one), ...stateJson(one.state) })),
    problems: problems.map(problemJson),
    caution: CAUTION,
  };
}

function stateJson(state: TimingState): { readonly domains: unknown; readonly clocks: unknown } {
  return { domains: state.groups.map(groupJson), clocks: state.clocks.map((clock) => clockJson(clock, state)) };
}

function groupJson({ domain, transport, planned, election, islands }: TimingGroup): unknown {
  return {
    number: domain,
    transport,
    names: planned.flatMap((one) => one.name ?? []),
    settled: election.settled,
    islands: islands.map(({ clocks, leaders }) => ({
      clocks: clocks.map((clock) => clock.name),
      leaders: leaders.map(leaderJson),
    })),
  };
}

function leaderJson({ clock, followers, why }: Leader): unknown {
  const reason =
    why === undefined
      ? null
      : {
          rival: why.rival.name,
          step: why.step,
          // No value that the plan does not state decides a tie.
          ...(advantageOf(clock, why.rival, why.step).by === 'unstated identity'
            ? { own: '', rivals: '' }
            : { own: stepValue(clock, why.step), rivals: stepValue(why.rival, why.step) }),
          rivalIsBetter: why.rivalIsBetter,
        };
  return { clock: clock.name, followers, meantToLead: clock.meantToLead, why: reason };
}

function clockJson(clock: Clock, state: TimingState): unknown {
  const outcome = state.outcomeOf(clock);
  const parent = outcome?.parent;
  const { quality } = clock;
  return {
    name: clock.name,
    rig: clock.rig.name,
    domain: clock.domain,
    transport: clock.transport,
    mode: clock.mode,
    profile: clock.profile?.key ?? null,
    standing: state.clockRoleOf(clock),
    grandmaster: outcome?.grandmaster.name ?? clock.name,
    stepsRemoved: outcome?.stepsRemoved ?? 0,
    parent:
      parent === undefined
        ? null
        : {
            clock: parent.clock.name,
            port: parent.clock.ports[parent.port]?.attachment.name ?? '',
            through: clock.ports[parent.through]?.attachment.name ?? '',
          },
    meantToLead: clock.meantToLead,
    slaveOnly: clock.slaveOnly,
    quality: {
      priority1: quality.priority1,
      clockClass: quality.clockClass,
      clockAccuracy: quality.clockAccuracy,
      offsetScaledLogVariance: quality.offsetScaledLogVariance,
      priority2: quality.priority2,
      identity: formatClockIdentity(quality.identity),
    },
    logAnnounceInterval: clock.logAnnounceInterval,
    announceReceiptTimeout: clock.announceReceiptTimeout,
    assumed: [...clock.assumed].sort(),
    ports: clock.ports.map(({ attachment, masterOnly }, index) => ({
      name: attachment.name,
      networks: [...attachment.networks].map((one) => one.name),
      state: outcome?.ports[index]?.state ?? 'listening',
      masterOnly,
    })),
  };
}

function lossJson({ lost, handovers, rerouted, reroutedIn, alone }: LossResult): object {
  return {
    ...lostJson(lost),
    handovers: handovers.map(({ domain, from, to, followers, times, stillLeads }) => ({
      domain,
      from: from.name,
      to: to.name,
      meantToLead: to.meantToLead,
      stillLeads,
      followers: names(followers),
      ...timesJson(times),
    })),
    rerouted: names(rerouted),
    reroutedSeconds: reroutedIn === undefined ? null : spanJson(reroutedIn),
    alone: names(alone),
  };
}

function lostJson({ kind, name, clockClass }: NamedLoss): object {
  return { kind, name, clockClass: clockClass ?? null };
}

function timesJson({ standby, followers, between, circlingS }: TakeoverTimes): object {
  return {
    standbySeconds: standby === undefined ? null : spanJson(standby),
    followersSeconds: followers === undefined ? null : spanJson(followers),
    between: between.map(({ grandmaster, longestS }) => ({ clock: grandmaster.name, seconds: longestS })),
    circlingSeconds: circlingS ?? null,
  };
}

function spanJson({ fromS, toS }: Span): object {
  return { from: fromS, to: toS };
}

function loadJson(load: ClockLoad): unknown {
  return {
    clock: load.clock.name,
    followers: load.followers,
    capacity: load.clock.settings.capacity ?? null,
    delayRequestsPerSecond: load.delayRequestsPerSecond,
    delayRequestCapacity: load.clock.settings.delayRequestCapacity ?? null,
    receivedPerSecond: load.receivedPerSecond,
    sentPerSecond: load.sentPerSecond,
    over: load.isOver,
    ports: load.ports.map(({ port, followers, load: { receivedPerSecond, sentPerSecond } }) => ({
      name: port.attachment.name,
      followers,
      receivedPerSecond,
      sentPerSecond,
    })),
  };
}

function names(clocks: readonly Clock[]): readonly string[] {
  return clocks.map((clock) => clock.name);
}
