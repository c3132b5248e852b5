import {
  clause,
  defineRule,
  formatSeconds,
  LONGEST_QUERY_INTERVAL_S,
  LONGEST_RESPONSE_S,
  mark,
  membershipInterval,
  protocolName,
  timersOf,
  vlanSubject,
  type Citation,
  type GroupManagement,
  type Protocol,
  type Severity,
} from '../../../src/lint/rule.js';

export default defineRule({
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
  *check({ plan }) {
    for (const vlan of plan.vlans) {
      for (const protocol of ['igmp', 'mld'] as const) {
        const management = vlan[protocol];
        if (management === undefined) continue;
        for (const fault of faultsOf(management, protocol)) {
          yield {
            subject: `${protocolName(protocol)} ${fault.about} in ${vlanSubject(vlan)}`,
            parties: [vlan.name],
            severity: fault.severity,
            what: `VLAN ${vlan.name}: ${fault.what}`,
            at: mark(management, `VLAN ${vlan.name}: ${fault.about}`, fault.key),
            onAir: fault.onAir,
            fix: fault.fix,
            touch: { kind: 'vlan', name: vlan.name },
            sources: fault.sources,
          };
        }
      }
    }
  },
});

interface Fault {
  readonly about: string;
  readonly key: string;
  readonly severity: Severity;
  readonly what: string;
  readonly onAir: string;
  readonly fix: string;
  readonly sources: readonly Citation[];
}

function faultsOf(management: GroupManagement, protocol: Protocol): readonly Fault[] {
  return [
    responseFault(management, protocol),
    robustnessFault(management, protocol),
    intervalFault(management, protocol),
  ].flatMap((fault) => fault ?? []);
}

function responseFault(management: GroupManagement, protocol: Protocol): Fault | undefined {
  const { queryIntervalS: interval, queryResponseIntervalS: response } = timersOf(management);
  const key = management.queryResponseIntervalS === undefined ? 'queryInterval' : 'queryResponseInterval';
  const longest = LONGEST_RESPONSE_S[protocol];
  const oldVersion = protocol === 'igmp' ? 2 : 1;
  if (management.version === oldVersion && response > longest) {
    return {
      about: 'query response interval',
      key,
      severity: 'error',
      what: `a query response interval of ${formatSeconds(response)} does not fit into ${protocolName(protocol)} ${oldVersion} queries, which say ${longest} s at most`,
      onAir:
        'the querier sends another value than the one planned, or none; members and querier then count differently, and streams drop out at odd times',
      fix: `set it to ${longest} s or less; 10 s is the default`,
      sources: [protocol === 'igmp' ? clause('RFC 2236', '2.2') : clause('RFC 2710', '3.4')],
    };
  }
  if (response < interval) return undefined;
  const equal = response === interval;
  return {
    about: 'query response interval',
    key,
    severity: equal ? 'warning' : 'error',
    what: `the query response interval, ${formatSeconds(response)}, is ${equal ? 'as long as' : 'longer than'} the query interval, ${formatSeconds(interval)}`,
    onAir: `the next query comes before the last one is answered: answers pile up, and a member that answers late is forgotten after ${formatSeconds(membershipInterval(management))}, so a stream drops out and comes back`,
    fix: 'set the query response interval well below the query interval; 10 s against 125 s are the defaults',
    sources:
      protocol === 'igmp' ? [clause('RFC 3376', '8.3'), clause('RFC 3376', '8.14.2')] : [clause('RFC 3810', '9')],
  };
}

function robustnessFault(management: GroupManagement, protocol: Protocol): Fault | undefined {
  if (management.robustness !== 1) return undefined;
  return {
    about: 'robustness',
    key: 'robustness',
    severity: 'warning',
    what: 'robustness 1 does not survive a single lost query or answer',
    onAir: `one lost packet is enough: the group is forgotten after ${formatSeconds(membershipInterval(management))} and its stream stops until the next query, up to ${formatSeconds(timersOf(management).queryIntervalS)} later`,
    fix: 'set it to 2, the default, or more where links lose packets',
    sources: [protocol === 'igmp' ? clause('RFC 3376', '8.1') : clause('RFC 3810', '9')],
  };
}

function intervalFault(management: GroupManagement, protocol: Protocol): Fault | undefined {
  const interval = management.queryIntervalS;
  if (interval === undefined || interval <= LONGEST_QUERY_INTERVAL_S) return undefined;
  return {
    about: 'query interval',
    key: 'queryInterval',
    severity: 'error',
    what: `a query interval of ${formatSeconds(interval)} is more than a query can say, ${formatSeconds(LONGEST_QUERY_INTERVAL_S)}`,
    onAir:
      'the querier sends another value than the one planned: whoever stands by takes over too early, or forgets groups that are still wanted',
    fix: 'set it to 125, the default in seconds; a value in milliseconds is the usual slip',
    sources: protocol === 'igmp' ? [clause('RFC 3376', '4.1.7')] : [clause('RFC 3810', '9')],
  };
}
