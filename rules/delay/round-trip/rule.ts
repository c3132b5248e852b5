import {
  clause,
  commonPractice,
  CONVERSATION_NS,
  defineRule,
  INTERCOM_NS,
  mark,
  noted,
  OWN_VOICE_NS,
  PLANNING_LIMIT_NS,
  touchOf,
  type Chain,
  type Citation,
  type RoundTripDelay,
  type Severity,
} from '../../../src/lint/rule.js';
import { words, type Facts, type Limit, type Way } from './words.js';

const G114 = clause('ITU-T G.114', 'one-way transmission time');

export default defineRule<Facts, { readonly there: Way; readonly back: Way }>({
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
      const { trip } = one;
      const fault =
        trip.kind === 'own-voice'
          ? ownVoice(one, threshold('own-voice-ms', trip.rig) * 1e6)
          : speech(one, threshold('intercom-ms', trip.rig) * 1e6);
      const last = fault?.way.hops[0]?.sender;
      if (fault === undefined || last === undefined) continue;
      const there = wayOf(one.there);
      const back = wayOf(one.back);
      const streams = [...one.there.hops, ...one.back.hops].map(({ sender }) => sender);
      yield {
        subject: `round trip ${trip.name} in rig ${trip.rig.name}`,
        parties: streams.map(({ label }) => label),
        severity: fault.severity,
        facts: { trip: trip.name, limit: fault.limit, limitNs: fault.limitNs, there, back, totalNs: one.totalNs },
        at: noted(mark(trip, trip.name), { there, back }),
        others: streams.map((sender) => mark(sender, sender.label)),
        sources: [fault.source],
        touch: touchOf(last),
      };
    }
  },
  words,
});

interface Fault {
  readonly limit: Limit;
  readonly limitNs: number;
  readonly severity: Severity;
  readonly source: Citation;
  /** The way to take delay out of. */
  readonly way: Chain;
}

function speech({ there, back }: RoundTripDelay, targetNs: number): Fault | undefined {
  const way = back.totalNs > there.totalNs ? back : there;
  const faults: readonly Omit<Fault, 'way'>[] = [
    { limit: 'planning', limitNs: PLANNING_LIMIT_NS, severity: 'error', source: G114 },
    { limit: 'conversation', limitNs: CONVERSATION_NS, severity: 'warning', source: G114 },
    {
      limit: 'intercom',
      limitNs: targetNs,
      severity: 'note',
      source: commonPractice('intercom within 100 ms a way'),
    },
  ];
  const fault = faults.find(({ limitNs }) => way.totalNs > limitNs);
  return fault === undefined ? undefined : { ...fault, way };
}

function ownVoice({ back, totalNs }: RoundTripDelay, mostNs: number): Fault | undefined {
  if (totalNs <= mostNs) return undefined;
  const source = commonPractice('the own voice back within 30 ms');
  return { limit: 'own-voice', limitNs: mostNs, severity: 'warning', source, way: back };
}

function wayOf({ totalNs, gaps }: Chain): Way {
  return { totalNs, atLeast: gaps.length > 0 };
}
