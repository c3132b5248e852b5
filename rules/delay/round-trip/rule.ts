import {
  clause,
  commonPractice,
  CONVERSATION_NS,
  defineRule,
  formatTime,
  INTERCOM_NS,
  mark,
  OWN_VOICE_NS,
  PLANNING_LIMIT_NS,
  touchOf,
  type Chain,
  type Citation,
  type RoundTripDelay,
  type Severity,
} from '../../../src/lint/rule.js';

const G114 = clause('ITU-T G.114', 'one-way transmission time');

export default defineRule({
  id: 'delay/round-trip',
  summary: 'Speech takes too long there or back',
  severity: 'warning',
  sources: [G114, commonPractice('intercom within 100 ms a way, the own voice back within 30 ms')],
  needs: ['roundTrips'],
  thresholds: {
    'intercom-ms': {
      default: INTERCOM_NS / 1e6,
      what: 'intercom, one way, from which a note is given, in milliseconds',
    },
    'own-voice-ms': { default: OWN_VOICE_NS / 1e6, what: "one's own voice there and back, in milliseconds" },
  },
  *check({ model, plan, threshold }) {
    if (plan.roundTrips.length === 0) return;
    for (const one of model.delays.roundTrips) {
      const { trip, there, back } = one;
      const fault =
        trip.kind === 'own-voice'
          ? ownVoice(one, threshold('own-voice-ms') * 1e6)
          : speech(one, threshold('intercom-ms') * 1e6);
      if (fault === undefined) continue;
      const last = fault.way.hops[0]?.sender;
      if (last === undefined) continue;
      const streams = [...there.hops, ...back.hops].map(({ sender }) => sender);
      yield {
        subject: `round trip ${trip.name} in rig ${trip.rig.name}`,
        parties: streams.map(({ label }) => label),
        severity: fault.severity,
        what: `${trip.name}: ${fault.what}`,
        at: mark(trip, `${trip.name}: ${sum(there)} there, ${sum(back)} back`),
        others: streams.map((sender) => mark(sender, sender.label)),
        onAir: fault.onAir,
        sources: [fault.source],
        fix: fault.fix,
        touch: touchOf(last),
      };
    }
  },
});

interface Fault {
  readonly severity: Severity;
  readonly what: string;
  readonly onAir: string;
  readonly fix: string;
  readonly source: Citation;
  readonly way: Chain;
}

function speech({ there, back }: RoundTripDelay, targetNs: number): Fault | undefined {
  const way = back.totalNs > there.totalNs ? back : there;
  const takes = `speech takes ${sum(there)} there and ${sum(back)} back`;
  const fix = 'take delay out of the slower way, first its longest part (`rigproof delay` lists them)';
  if (way.totalNs > PLANNING_LIMIT_NS) {
    return {
      severity: 'error',
      way,
      fix,
      source: G114,
      what: `${takes}; no way may take more than ${formatTime(PLANNING_LIMIT_NS)}`,
      onAir: 'nobody can talk to the other end: both start, both stop, and cues come too late to be of use',
    };
  }
  if (way.totalNs > CONVERSATION_NS) {
    return {
      severity: 'warning',
      way,
      fix,
      source: G114,
      what: `${takes}; above ${formatTime(CONVERSATION_NS)} a way people talk across each other`,
      onAir: 'people talk across each other, and cues come audibly late',
    };
  }
  if (way.totalNs > targetNs) {
    return {
      severity: 'note',
      way,
      fix,
      source: commonPractice('intercom within 100 ms a way'),
      what: `${takes}; crews keep intercom within ${formatTime(targetNs)} a way`,
      onAir: 'cues come late, which those who count a crew in notice',
    };
  }
  return undefined;
}

function ownVoice({ there, back, totalNs }: RoundTripDelay, mostNs: number): Fault | undefined {
  if (totalNs <= mostNs) return undefined;
  const gaps = there.gaps.length + back.gaps.length > 0 ? 'at least ' : '';
  return {
    severity: 'warning',
    way: back,
    what: `one's own voice comes back after ${gaps}${milliseconds(totalNs)}; above ${formatTime(mostNs)} it is heard as an echo`,
    onAir: 'whoever speaks hears an echo of their own voice, slows down and stumbles',
    fix: 'send back a mix without their own voice, and let their box give it to them',
    source: commonPractice('the own voice back within 30 ms'),
  };
}

function sum({ totalNs, gaps }: Chain): string {
  return `${gaps.length > 0 ? 'at least ' : ''}${milliseconds(totalNs)}`;
}

function milliseconds(ns: number): string {
  return `${Number((ns / 1e6).toFixed(1))} ms`;
}
