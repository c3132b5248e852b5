import {
  byLabel,
  clause,
  defineRule,
  isNonEmpty,
  mapAll,
  noted,
  segmentSubject,
  withRig,
} from '../../../src/doors/rule.js';
import { citedFor, settingDifferences, settingMark, type SettingKey } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

const SOURCES = [clause('RFC 3376', '8'), clause('RFC 3376', '7.3.1'), clause('RFC 3810', '9')];

export default defineRule<Facts, Note>({
  id: 'igmp/settings-differ',
  summary: 'Two VLAN entries are one VLAN on the network, but their IGMP or MLD settings differ',
  severity: 'error',
  sources: SOURCES,
  needs: ['groupManagement'],
  brief: 'settings differ within one VLAN',
  *check({ model }) {
    for (const segment of model.groupSegments) {
      const entries = byLabel(segment.settings, ({ vlan }) => withRig(vlan));
      if (!isNonEmpty(entries)) continue;
      const differences = settingDifferences(entries);
      if (!isNonEmpty(differences)) continue;
      const [worst] = differences;
      const [first, ...rest] = mapAll(entries, (entry, index) =>
        noted(
          settingMark(entry, KEYS[worst.setting]),
          differences.flatMap(({ setting, values }) =>
            values[index] === undefined ? [] : [{ setting, ...values[index] }],
          ),
        ),
      );
      yield {
        subject: segmentSubject(segment),
        parties: entries.map(({ vlan }) => withRig(vlan)),
        severity: worst.severity,
        confidence: differences.some(({ stated }) => stated) ? 'certain' : 'assumed',
        facts: {
          protocol: segment.protocol,
          vlans: entries.map(({ vlan }) => vlan),
          differences: mapAll(differences, ({ setting, values }) => ({ setting, values })),
        },
        at: first,
        others: rest,
        touch: { kind: 'vlan', name: entries[0].vlan.name },
        sources: citedFor(segment.protocol, SOURCES),
      };
    }
  },
  words,
});

/** As the plan writes them. */
const KEYS: Readonly<Record<SettingKey, string>> = {
  version: 'version',
  snooping: 'snooping',
  queryIntervalS: 'queryInterval',
  queryResponseIntervalS: 'queryResponseInterval',
  robustness: 'robustness',
  lastMemberQueryIntervalS: 'lastMemberQueryInterval',
  unregistered: 'unregistered',
};
