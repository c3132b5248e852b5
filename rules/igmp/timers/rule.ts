import { createEditList, likely } from '../../../src/doors/cures.js';
import { clause, defineRule, mark, noted, vlanSubject, type Citation } from '../../../src/doors/rule.js';
import {
  membershipInterval,
  protocolName,
  timerFaults,
  timersOf,
  type GroupManagement,
  type Protocol,
  type TimerFault,
} from '../../../src/doors/igmp.js';
import { TIMER_NAMES, words, type Facts, type Note } from './words.js';

const MLD = [clause('RFC 3810', '9')];
const BELOW = { igmp: [clause('RFC 3376', '8.3'), clause('RFC 3376', '8.14.2')], mld: MLD };
const SOURCES: Readonly<Record<TimerFault, Readonly<Record<Protocol, readonly Citation[]>>>> = {
  responseTooLong: { igmp: [clause('RFC 2236', '2.2')], mld: [clause('RFC 2710', '3.4')] },
  responseAsLong: BELOW,
  responseLonger: BELOW,
  robustnessOne: { igmp: [clause('RFC 3376', '8.1')], mld: MLD },
  intervalTooLong: { igmp: [clause('RFC 3376', '4.1.7')], mld: MLD },
};

export default defineRule<Facts, Note>({
  id: 'igmp/timers',
  summary: 'Query timers that lose members or cannot be sent',
  severity: 'error',
  sources: [
    clause('RFC 3376', '8.1'),
    clause('RFC 3376', '8.3'),
    clause('RFC 3376', '8.14.2'),
    clause('RFC 3810', '9'),
    clause('RFC 2236', '2.2'),
    clause('RFC 2710', '3.4'),
    clause('RFC 3376', '4.1.7'),
  ],
  needs: ['groupManagement'],
  brief: 'query timers lose members',
  harm: 'later',
  *check({ plan }) {
    for (const vlan of plan.vlans) {
      for (const protocol of ['igmp', 'mld'] as const) {
        const management = vlan[protocol];
        if (management === undefined) continue;
        const { queryIntervalS, queryResponseIntervalS } = timersOf(management);
        const membershipS = membershipInterval(management);
        for (const form of timerFaults(management, protocol)) {
          yield {
            subject: `${protocolName(protocol)} ${TIMER_NAMES[form]} in ${vlanSubject(vlan)}`,
            parties: [vlan.name],
            severity: form === 'responseAsLong' || form === 'robustnessOne' ? 'warning' : 'error',
            cure: () => {
              const edits = createEditList();
              for (const [key, value] of Object.entries(defaultsFor(form, queryIntervalS)))
                edits.set(management, key, value);
              return likely(edits);
            },
            facts: { form, protocol, vlan, queryIntervalS, queryResponseIntervalS, membershipS },
            at: noted(mark(management, `VLAN ${vlan.name}`, keyOf(form, management)), 'timer'),
            touch: { kind: 'vlan', name: vlan.name },
            sources: SOURCES[form][protocol],
          };
        }
      }
    }
  },
  words,
});

function keyOf(form: TimerFault, { queryResponseIntervalS }: GroupManagement): string {
  if (form === 'robustnessOne') return 'robustness';
  return form === 'intervalTooLong' || queryResponseIntervalS === undefined ? 'queryInterval' : 'queryResponseInterval';
}

/** Defaults of RFC 3376 §8 and RFC 3810 §9, in seconds; the interval too where the response would not be well below it. */
function defaultsFor(form: TimerFault, queryIntervalS: number): Readonly<Record<string, number>> {
  if (form === 'robustnessOne') return { robustness: 2 };
  if (form === 'intervalTooLong') return { queryInterval: 125 };
  return queryIntervalS > 20 ? { queryResponseInterval: 10 } : { queryInterval: 125, queryResponseInterval: 10 };
}
