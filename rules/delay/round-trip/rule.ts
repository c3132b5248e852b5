import {
  clause,
  commonPractice,
  defineRule,
  mark,
  noted,
  touchOf,
  type Citation,
  type Severity,
} from '../../../src/doors/rule.js';
import {
  CONVERSATION_NS,
  INTERCOM_NS,
  OWN_VOICE_NS,
  PLANNING_LIMIT_NS,
  restsOnUsual,
  type Chain,
  type RoundTripDelay,
} from '../../../src/doors/delay.js';
import { words, type Facts } from './words.js';

const G114 = clause('ITU-T G.114', 'one-way transmission time');

export default defineRule<Facts, 'sums'>({
  id: 'delay/round-trip',
  summary: 'Speech takes too long there or back',
  severity: 'warning',
  people: 'where delay is taken out',
  sources: [G114, commonPractice('intercom within 100 ms a way, the own voice back within 30 ms')],
  needs: ['roundTrips'],
  brief: 'speech takes too long',
  harm: 'spoils',
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
          ? ownVoice(one, threshold('own-voice-ms', trip.rig) * 1e6)
          : speech(one, threshold('intercom-ms', trip.rig) * 1e6);
      if (fault === undefined) continue;
      const { form, limitNs, severity, source, way } = fault;
      const streams = [...there.hops, ...back.hops].map(({ sender }) => sender);
      yield {
        subject: `round trip ${trip.name} in rig ${trip.rig.name}`,
        parties: streams.map(({ label }) => label),
        severity,
        confidence: 'practice' in source || [there, back].some(restsOnUsual) ? 'likely' : 'certain',
        facts: { form, limitNs, trip: trip.name, there: delayOf(there), back: delayOf(back) },
        at: noted(mark(trip, trip.name), 'sums'),
        others: streams.map((sender) => mark(sender, sender.label)),
        sources: [source],
        touch: touchOf(way.hops[0].sender),
      };
    }
  },
  words,
});

interface Fault extends Pick<Facts, 'form' | 'limitNs'> {
  readonly severity: Severity;
  readonly source: Citation;
  /** The way to change. */
  readonly way: Chain;
}

function speech({ there, back, verdict }: RoundTripDelay, targetNs: number): Fault | undefined {
  const way = back.totalNs > there.totalNs ? back : there;
  if (verdict === 'too-slow')
    return { form: 'planning', limitNs: PLANNING_LIMIT_NS, severity: 'error', source: G114, way };
  if (verdict === 'slow')
    return { form: 'conversation', limitNs: CONVERSATION_NS, severity: 'warning', source: G114, way };
  if (way.totalNs <= targetNs) return undefined;
  const source = commonPractice('intercom within 100 ms a way');
  return { form: 'intercom', limitNs: targetNs, severity: 'note', source, way };
}

function ownVoice({ back, totalNs }: RoundTripDelay, mostNs: number): Fault | undefined {
  if (totalNs <= mostNs) return undefined;
  const source = commonPractice('the own voice back within 30 ms');
  return { form: 'own voice', limitNs: mostNs, severity: 'warning', source, way: back };
}

function delayOf({ totalNs, gaps }: Chain): Facts['there'] {
  return { ns: totalNs, isLeast: gaps.length > 0 };
}
