import type { FindingWords, Vlan } from '../../../src/doors/rule.js';
import {
  formatSeconds,
  LONGEST_QUERY_INTERVAL_S,
  LONGEST_RESPONSE_S,
  OLD_VERSION,
  protocolName,
  type Protocol,
  type TimerFault,
} from '../../../src/doors/igmp.js';

export interface Facts {
  readonly form: TimerFault;
  readonly protocol: Protocol;
  readonly vlan: Vlan;
  /** As the VLAN states them, or by default. */
  readonly queryIntervalS: number;
  readonly queryResponseIntervalS: number;
  /** Until a membership is forgotten with them. */
  readonly membershipS: number;
}

export type Note = 'timer';

/** The timer at fault. */
export const TIMER_NAMES: Readonly<Record<TimerFault, string>> = {
  responseTooLong: 'query response interval',
  responseAsLong: 'query response interval',
  responseLonger: 'query response interval',
  robustnessOne: 'robustness',
  intervalTooLong: 'query interval',
};

export function words(facts: Facts): FindingWords<Note> {
  const { what, ...rest } = sentences(facts);
  return { what: `VLAN ${facts.vlan.name}: ${what}`, ...rest, label: (name) => `${name}: ${TIMER_NAMES[facts.form]}` };
}

function sentences({ form, protocol, ...facts }: Facts): FindingWords<Note> {
  const interval = formatSeconds(facts.queryIntervalS);
  const response = formatSeconds(facts.queryResponseIntervalS);
  const forgotten = formatSeconds(facts.membershipS);
  const longest = LONGEST_RESPONSE_S[protocol];
  switch (form) {
    case 'responseTooLong':
      return {
        what: `a query response interval of ${response} does not fit into ${protocolName(protocol)} ${OLD_VERSION[protocol]} queries, which say ${longest} s at most`,
        onAir:
          'the querier sends another value than the one planned, or none; members and querier then count differently, and streams drop out at odd times',
        fix: `set it to ${longest} s or less; 10 s is the default`,
      };
    case 'responseAsLong':
    case 'responseLonger':
      return {
        what: `the query response interval, ${response}, is ${form === 'responseAsLong' ? 'as long as' : 'longer than'} the query interval, ${interval}`,
        onAir: `the next query comes before the last one is answered: answers pile up, and a member that answers late is forgotten after ${forgotten}, so a stream drops out and comes back`,
        fix: 'set the query response interval well below the query interval; 10 s against 125 s are the defaults',
      };
    case 'robustnessOne':
      return {
        what: 'robustness 1 does not survive a single lost query or answer',
        onAir: `one lost packet is enough: the group is forgotten after ${forgotten} and its stream stops until the next query, up to ${interval} later`,
        fix: 'set it to 2, the default, or more where links lose packets',
      };
    case 'intervalTooLong':
      return {
        what: `a query interval of ${interval} is more than a query can say, ${formatSeconds(LONGEST_QUERY_INTERVAL_S)}`,
        onAir:
          'the querier sends another value than the one planned: whoever stands by takes over too early, or forgets groups that are still wanted',
        fix: 'set it to 125, the default in seconds; a value in milliseconds is the usual slip',
      };
  }
}
