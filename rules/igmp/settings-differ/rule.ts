import {
  byLabel,
  citedFor,
  clause,
  defineRule,
  formatSeconds,
  listNames,
  protocolName,
  segmentSubject,
  settingMark,
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
      const differing = KEYS.filter(
        ({ value }) => new Set(settings.flatMap(({ management }) => value(management) ?? [])).size > 1,
      );
      const [worst] = differing;
      if (first === undefined || worst === undefined) continue;
      const name = protocolName(segment.protocol);
      const note = ({ management }: VlanSetting): string =>
        differing.map(({ words, value }) => `${words} ${value(management) ?? 'not stated'}`).join(', ');
      yield {
        subject: segmentSubject(segment),
        parties: settings.map(labelOf),
        severity: worst.severity,
        what: `${listNames(settings.map(labelOf))} are one VLAN on the network, but their ${name} settings differ: ${differing
          .map(
            ({ words, value }) =>
              `${words} ${listNames(
                settings.flatMap((one) => {
                  const own = value(one.management);
                  return own === undefined ? [] : [`${own} in ${labelOf(one)}`];
                }),
              )}`,
          )
          .join('; ')}`,
        at: settingMark(first, note(first), worst.key),
        others: rest.map((one) => settingMark(one, note(one), worst.key)),
        onAir: worst.onAir,
        fix: `write one value in both, and set it on every switch of the VLAN: ${listNames(differing.map(({ words }) => words))}`,
        touch: { kind: 'vlan', name: first.vlan.name },
        sources: citedFor(segment.protocol, SOURCES),
      };
    }
  },
});

function labelOf({ vlan }: VlanSetting): string {
  return vlan.rig.name === '' ? vlan.name : `${vlan.name} of ${vlan.rig.name}`;
}

interface Key {
  readonly key: string;
  readonly words: string;
  readonly severity: 'error' | 'warning';
  readonly value: (management: GroupManagement) => string | undefined;
  readonly onAir: string;
}

const TIMERS =
  'members are asked at one pace and forgotten at another: streams drop out every few minutes and come back with the next query';

/** Worst first. */
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
  },
  {
    key: 'queryResponseInterval',
    words: 'query response interval',
    severity: 'error',
    value: ({ queryResponseIntervalS }) => seconds(queryResponseIntervalS),
    onAir: TIMERS,
  },
  {
    key: 'robustness',
    words: 'robustness',
    severity: 'error',
    value: ({ robustness }) => robustness?.toString(),
    onAir: TIMERS,
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
