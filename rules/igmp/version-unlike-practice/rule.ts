import { createEditList, likely, setOnVlan } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  inRig,
  mapAll,
  mark,
  noted,
  type Model,
  type Vlan,
} from '../../../src/doors/rule.js';
import { oldVersions } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/version-unlike-practice',
  summary: 'A VLAN runs another IGMP version than the practice says',
  severity: 'warning',
  sources: [clause('RFC 3376', '7.3.1'), commonPractice('one IGMP version in all VLANs of a rig')],
  needs: ['igmpVersion', 'practiceIgmpVersion'],
  brief: 'version unlike the practice',
  harm: 'paper',
  *check({ plan, model }) {
    const judged = judgedElsewhere(model);
    const odd = plan.vlans.filter((vlan) => !judged.has(vlan));
    for (const [rig, ofRig] of groupBy(odd, (vlan) => vlan.rig)) {
      const practiceVersion = rig.practice.igmpVersion;
      if (practiceVersion === undefined) continue;
      for (const [version, unsorted] of groupBy(ofRig, (vlan) => vlan.igmp?.version)) {
        if (version === practiceVersion) continue;
        const vlans = byLabel(unsorted, ({ name }) => name);
        const [at, ...others] = mapAll(vlans, (vlan) =>
          noted(mark(vlan.igmp ?? vlan, `VLAN ${vlan.name}`, 'version'), 'version'),
        );
        yield {
          subject: `IGMP ${version}${inRig(rig)}`,
          parties: vlans.map(({ name }) => name),
          cure: () => {
            const edits = createEditList();
            for (const vlan of vlans) setOnVlan(edits, vlan, 'igmp', { version: practiceVersion });
            return likely(edits);
          },
          facts: { vlans, version, practiceVersion },
          at,
          others,
          touch: { kind: 'vlan', name: vlans[0].name },
        };
      }
    }
  },
  words,
});

/** VLANs of `igmp/settings-differ` and `igmp/version-too-old`. */
function judgedElsewhere({ groupSegments, domains, groups }: Model): ReadonlySet<Vlan> {
  const igmp = groupSegments.filter(({ protocol }) => protocol === 'igmp');
  const differing = igmp.filter(({ settings }) => new Set(settings.map((one) => one.management.version)).size > 1);
  const settings = [...differing, ...oldVersions(igmp, domains, groups)].flatMap((one) => one.settings);
  return new Set(settings.map(({ vlan }) => vlan));
}
