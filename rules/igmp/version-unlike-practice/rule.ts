import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  inRig,
  listNames,
  mark,
  oldVersions,
  type Rig,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'igmp/version-unlike-practice',
  summary: 'A VLAN runs another IGMP version than the practice says',
  severity: 'warning',
  sources: [clause('RFC 3376', '7.3.1'), commonPractice('one IGMP version in all VLANs of a rig')],
  needs: ['igmpVersion', 'practiceIgmpVersion'],
  *check({ plan, model }) {
    const igmp = model.groupSegments.filter(({ protocol }) => protocol === 'igmp');
    const judged = new Set(
      igmp
        .filter(({ settings }) => settings.length > 1)
        .flatMap(({ settings }) =>
          new Set(settings.map(({ management }) => management.version)).size > 1
            ? settings.map(({ vlan }) => vlan)
            : [],
        ),
    );
    for (const { settings } of oldVersions(igmp, model.domains, model.groups))
      for (const { vlan } of settings) judged.add(vlan);
    const odd = plan.vlans.filter((vlan) => isOdd(vlan) && !judged.has(vlan));
    for (const [rig, ofRig] of groupBy(odd, (vlan): Rig => vlan.rig)) {
      for (const [version, vlans] of groupBy(ofRig, (vlan) => vlan.igmp?.version)) {
        const sorted = byLabel(vlans, ({ name }) => name);
        const [first, ...rest] = sorted;
        if (first === undefined) continue;
        const names = sorted.map(({ name }) => name);
        const wanted = rig.practice.igmpVersion ?? '';
        const older = version < Number(wanted);
        yield {
          subject: `IGMP ${version}${inRig(rig)}`,
          parties: names,
          what: `${names.length === 1 ? 'VLAN' : 'VLANs'} ${listNames(names)} ${names.length === 1 ? 'runs' : 'run'} IGMP ${version}, the practice of the plan is IGMP ${wanted}`,
          at: mark(first.igmp ?? first, `VLAN ${first.name}: IGMP ${version}`, 'version'),
          others: rest.map((vlan) => mark(vlan.igmp ?? vlan, `VLAN ${vlan.name}: IGMP ${version}`, 'version')),
          onAir: older
            ? 'nothing while no receiver there asks for a source; then the request loses its source, and whoever relies on it gets all senders of the group or none'
            : `boxes set to IGMP ${wanted} as everywhere else meet queries they may not understand, and one of them that queries makes the whole VLAN fall back`,
          fix: `set IGMP ${wanted} there, or change \`practice: {igmpVersion: …}\``,
          touch: { kind: 'vlan', name: first.name },
        };
      }
    }
  },
});

/** Of the VLANs left over from `igmp/settings-differ` and `igmp/version-too-old`. */
function isOdd({ rig, igmp }: Vlan): boolean {
  return (
    igmp?.version !== undefined && rig.practice.igmpVersion !== undefined && igmp.version !== rig.practice.igmpVersion
  );
}
