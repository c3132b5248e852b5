import {
  createEditList,
  likely,
  peopleDecide,
  writtenAt,
  type EditValue,
  setOnVlan,
} from '../../../src/doors/cures.js';
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
  harm: 'spoils',
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
        cure: () => {
          const edits = createEditList();
          for (const { setting } of differences) {
            const key = KEYS[setting];
            const wanted = usualOf(entries.map(({ management }) => writtenAt(management, key)));
            if (wanted === undefined) return peopleDecide('which of the values is meant');
            for (const { vlan } of entries) setOnVlan(edits, vlan, segment.protocol, { [key]: wanted });
          }
          return likely(edits);
        },
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

/** What most of those that say something say, the first of equals. */
function usualOf(values: readonly (EditValue | undefined)[]): EditValue | undefined {
  const counts = new Map<EditValue, number>();
  for (const value of values) if (value !== undefined) counts.set(value, (counts.get(value) ?? 0) + 1);
  const [best] = [...counts].sort(([, a], [, b]) => b - a);
  return best?.[0];
}
