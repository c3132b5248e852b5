/** A loss moment by moment, for programs: one document in the shape of `schemas/timeline.schema.json`. */
import type { TimelineResult } from '../../answers/timeline.js';
import type { ClockMoment, ClockWhen } from '../../model/timing/index.js';
import type { Happening, Hit, Moment, Unfollowed, QuerierMoment, Timeline, When } from '../../model/timeline/index.js';
import { linkLabel } from '../../model/vlans/index.js';
import type { Span } from '../../values/span.js';
import { blindWords } from '../blind.js';
import { CAUTION } from '../caution.js';
import { problemJson, toolJson } from '../common-json.js';

/** Keys come in a fixed order; lists are whole. */
export function timelineJson({ timelines, problems, blind }: TimelineResult, version: string): object {
  return {
    format: 1,
    tool: toolJson(version),
    complete: problems.length === 0,
    timelines: timelines.map(oneJson),
    notJudged: blindWords(blind).map(({ what, write }) => ({ what, write })),
    problems: problems.map(problemJson),
    caution: CAUTION,
  };
}

function oneJson({ lost, isReturn, moments, notFollowed, receptions }: Timeline): unknown {
  return {
    lost: { kind: lost.kind, name: lost.name, clockClass: lost.clockClass ?? null },
    returned: isReturn,
    receptions,
    moments: moments.map(momentJson),
    notFollowed: notFollowed.map(notFollowedJson),
  };
}

function momentJson({ when, what }: Moment): unknown {
  return { ...whenJson(when), ...happeningJson(what) };
}

function whenJson(when: When): object {
  return when.kind === 'known'
    ? { seconds: spanJson(when), assumed: when.assumed, notStated: null }
    : { seconds: null, assumed: false, notStated: when.lacks };
}

function happeningJson(what: Happening): object {
  switch (what.kind) {
    case 'lost':
    case 'back':
      return { kind: what.kind };
    case 'own inputs':
      return { kind: what.kind, receivers: what.receivers.map(({ label }) => label) };
    case 'legs off':
      return {
        kind: what.kind,
        network: what.network?.name ?? null,
        hits: what.hits.map(hitJson),
        goOnBy: what.kept.map(({ name }) => name),
        comesAgain: what.back,
        why: what.why,
      };
    case 'dark':
      return { kind: what.kind, hits: what.hits.map(hitJson), comesAgain: what.back, why: what.why };
    case 'legs on':
      return {
        kind: what.kind,
        network: what.network?.name ?? null,
        hits: what.hits.map(hitJson),
        by: what.by,
        darkUntilThen: what.dark,
        firstTime: what.first,
      };
    case 'spread anew':
      return { kind: what.kind, hits: what.hits.map(hitJson) };
    case 'new tree':
      return { kind: what.kind, opened: what.turn.opened.map(linkLabel), protocol: what.turn.pace };
    case 'querier lost':
      return { kind: what.kind, ...querierJson(what.change) };
    case 'querier takes over':
      return { kind: what.kind, ...querierJson(what.change), gapSeconds: what.change.gapS };
    case 'clocks':
      return clockJson(what.moment);
  }
}

function hitJson({ reception: { receiver, sender }, legs }: Hit): unknown {
  return {
    receiver: receiver.label,
    stream: sender.label,
    legs: legs.map(({ receiverLeg }) => receiverLeg.index + 1),
  };
}

function querierJson({ protocol, vlans, switches, from, to }: QuerierMoment): object {
  return {
    protocol,
    vlans: vlans.map(({ name }) => name),
    switches: switches.map(({ name }) => name),
    from: from.map(({ name }) => name),
    to: to.map(({ name }) => name),
  };
}

function clockJson(moment: ClockMoment): object {
  switch (moment.kind) {
    case 'class changes':
      return { kind: moment.kind, clock: moment.clock.name, clockClass: moment.clockClass };
    case 'master lost':
      return { kind: moment.kind, master: moment.master.name, clocks: moment.clocks.map(({ name }) => name) };
    case 'leads meanwhile':
      return {
        kind: moment.kind,
        clock: moment.clock.name,
        gone: moment.isGone,
        followers: moment.followers.map(({ name }) => name),
        longestSeconds: moment.longestS,
      };
    case 'leads':
      return { kind: moment.kind, clock: moment.clock.name, meantToLead: moment.clock.meantToLead };
    case 'has master':
      return {
        kind: moment.kind,
        grandmaster: moment.grandmaster.name,
        otherThanBefore: moment.anew,
        clocks: moment.clocks.map(clockWhenJson),
      };
    case 'left alone':
    case 'locked':
      return { kind: moment.kind, clocks: moment.clocks.map(clockWhenJson) };
    case 'lock unstated':
      return { kind: moment.kind, clocks: moment.clocks.map(({ name }) => name) };
    case 'circling':
      return { kind: moment.kind };
  }
}

function clockWhenJson({ clock, at }: ClockWhen): unknown {
  return { clock: clock.name, seconds: at === undefined ? null : spanJson(at) };
}

function spanJson({ fromS, toS }: Span): object {
  return { from: fromS, to: toS };
}

function notFollowedJson(one: Unfollowed): object {
  switch (one.kind) {
    case 'legs':
      return {
        kind: one.kind,
        names: one.legs.map(({ receiver, index }) => `${receiver.label} leg ${String(index + 1)}`),
      };
    case 'clocks behind tree':
      return { kind: one.kind, names: one.links.map(linkLabel) };
    case 'streams':
      return { kind: one.kind, names: [] };
    case 'holdover':
      return { kind: one.kind, names: [one.clock] };
    case 'querier places':
      return { kind: one.kind, names: one.vlans.map(({ name }) => name) };
    case 'clock of interface':
      return { kind: one.kind, names: [one.device] };
  }
}
