import {
  byLabel,
  citedFor,
  clause,
  DEFAULT_TIMERS,
  defineRule,
  formatSeconds,
  listNames,
  protocolName,
  segmentSubject,
  settingMark,
  withRig,
  type GroupManagement,
  type VlanSetting,
} from '../../../src/lint/rule.js';

const SOURCES = [clause('RFC 3376', '8'), clause('RFC 3376', '7.3.1'), clause('RFC 3810', '9')];

export default defineRule({
  id: 'igmp/settings-differ',
  summary: 'Two VLAN entries are one VLAN on the network, but their IGMP or MLD settings differ',
  severity: 'error',
  sources: SOURCES,
  needs: ['groupManagement'],
  *check({ model }) {
    for (const segment of model.groupSegments) {
      if (segment.settings.length < 2) continue;
      const settings = byLabel(segment.settings, labelOf);
      const [first, ...rest] = settings;
      const differing = worstFirst(KEYS.flatMap((key) => differenceIn(key, settings) ?? []));
      const [worst] = differing;
      if (first === undefined || worst === undefined) continue;
      const name = protocolName(segment.protocol);
      const note = ({ management }: VlanSetting): string =>
        differing
          .map(({ words, value, otherwise }) => `${words} ${value(management) ?? byDefault(otherwise) ?? 'not stated'}`)
          .join(', ');
      yield {
        subject: segmentSubject(segment),
        parties: settings.map(labelOf),
        severity: worst.severity,
        what: `${listNames(settings.map(labelOf))} are one VLAN on the network, but their ${name} settings differ: ${differing
          .map(
            ({ words, value, otherwise }) =>
              `${words} ${listNames(
                settings.flatMap((one) => {
                  const own = value(one.management) ?? byDefault(otherwise);
                  return own === undefined ? [] : [`${own} in VLAN ${labelOf(one)}`];
                }),
              )}`,
          )
          .join('; ')}`,
        at: settingMark(first, note(first), worst.key),
        others: rest.map((one) => settingMark(one, note(one), worst.key)),
        onAir: worst.onAir,
        fix: `write one value in all of them, and set it on every switch of the VLAN: ${listNames(differing.map(({ words }) => words))}`,
        touch: { kind: 'vlan', name: first.vlan.name },
        sources: citedFor(segment.protocol, SOURCES),
      };
    }
  },
});

function labelOf({ vlan }: VlanSetting): string {
  return withRig(vlan);
}

/** Settings that differ in what is stated, or, where an entry leaves out what has a default, from that. */
function differenceIn(key: Key, settings: readonly VlanSetting[]): Key | undefined {
  const stated = new Set(settings.flatMap(({ management }) => key.value(management) ?? []));
  // Nobody is bound to the default: it only tells what a switch does that is told nothing.
  const open = settings.some(({ management }) => key.value(management) === undefined);
  const { otherwise, ...plain } = key;
  if (stated.size > 1) return open ? key : plain;
  if (stated.size === 0 || !open || otherwise === undefined || stated.has(otherwise)) return undefined;
  return { ...key, severity: 'warning' };
}

function worstFirst(keys: readonly Key[]): readonly Key[] {
  return [
    ...keys.filter(({ severity }) => severity === 'error'),
    ...keys.filter(({ severity }) => severity !== 'error'),
  ];
}

function byDefault(otherwise: string | undefined): string | undefined {
  return otherwise === undefined ? undefined : `${otherwise} by default`;
}

interface Key {
  readonly key: string;
  readonly words: string;
  readonly severity: 'error' | 'warning';
  readonly value: (management: GroupManagement) => string | undefined;
  readonly onAir: string;
  /** What RFC 3376 §8.1 to §8.3, and RFC 3810 §9.1 to §9.3 alike, give to a box that is told nothing. */
  readonly otherwise?: string;
}

const TIMERS =
  'members are asked at one pace and forgotten at another: streams drop out every few minutes and come back with the next query';

/** Worst first, as long as entries state them. */
const KEYS: readonly Key[] = [
  {
    key: 'version',
    words: 'version',
    severity: 'error',
    value: ({ version }) => version?.toString(),
    onAir:
      'a newer query is not understood on the older side, an older one makes all hosts fall back: joins by source fail, or do not arrive at all',
  },
  {
    key: 'snooping',
    words: 'snooping',
    severity: 'error',
    value: ({ snooping }) => (snooping === undefined ? undefined : snooping ? 'on' : 'off'),
    onAir:
      'one part floods every stream to every port, the other forwards what was joined: ports on the flooded side fill first',
  },
  {
    key: 'queryInterval',
    words: 'query interval',
    severity: 'error',
    value: ({ queryIntervalS }) => seconds(queryIntervalS),
    onAir: TIMERS,
    otherwise: formatSeconds(DEFAULT_TIMERS.queryIntervalS),
  },
  {
    key: 'queryResponseInterval',
    words: 'query response interval',
    severity: 'error',
    value: ({ queryResponseIntervalS }) => seconds(queryResponseIntervalS),
    onAir: TIMERS,
    otherwise: formatSeconds(DEFAULT_TIMERS.queryResponseIntervalS),
  },
  {
    key: 'robustness',
    words: 'robustness',
    severity: 'error',
    value: ({ robustness }) => robustness?.toString(),
    onAir: TIMERS,
    otherwise: String(DEFAULT_TIMERS.robustness),
  },
  {
    key: 'lastMemberQueryInterval',
    words: 'last member query interval',
    severity: 'warning',
    value: ({ lastMemberQueryIntervalS }) => seconds(lastMemberQueryIntervalS),
    onAir:
      'after a leave one side stops the stream before the other has asked who still wants it: a receiver that stays may see a short drop',
  },
  {
    key: 'unregistered',
    words: 'groups nobody joined',
    severity: 'warning',
    value: ({ unregistered }) => unregistered,
    onAir:
      'one part floods groups nobody joined, the other drops them: a stream is there or not depending on the switch',
  },
];

function seconds(value: number | undefined): string | undefined {
  return value === undefined ? undefined : formatSeconds(value);
}
