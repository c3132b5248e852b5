import {
  byLabel,
  classifyGroup4,
  clause,
  defineRule,
  formatAddress,
  formatRange,
  groupsOf,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  moveWords,
  otherMarks,
  touchOf,
  type GroupBlock,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/reserved-block',
  summary: 'Streams use a block of groups that is not theirs to use',
  severity: 'error',
  sources: [
    clause('RFC 5771', '13'),
    clause('RFC 5771', '6'),
    clause('RFC 5771', '7.1'),
    clause('RFC 5771', '9.2'),
    clause('RFC 2365', '6.3'),
  ],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('reserved-block') ?? [],
      (leg) => `${titleOf(blockOf(leg))}${inRig(leg.sender.rig)}`,
    );
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs, names, subject } = set;
      const block = blockOf(first);
      if (block === undefined || first.group === undefined) continue;
      const many = groupsOf(legs).length > 1;
      yield {
        subject,
        parties: names,
        severity: block.kind === 'ad-hoc' ? 'warning' : 'error',
        what: `${groupWords(legs)} of ${listNames(names)} ${many ? 'lie' : 'lies'} in ${titleOf(block)}, ${meaning(block)}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir:
          'it works on some gear: devices and routers that keep to the standards refuse the group, and there the stream never arrives',
        fix: moveWords(model, legs),
        touch: touchOf(first.sender),
      };
    }
  },
});

function blockOf({ group }: Leg): GroupBlock | undefined {
  return typeof group === 'number' ? classifyGroup4(group) : undefined;
}

function titleOf(block: GroupBlock | undefined): string {
  if (block === undefined) return '';
  return block.kind === 'reserved'
    ? `the reserved block ${formatRange(block.range)}`
    : `${block.title} ${formatRange(block.range)}`;
}

function meaning({ kind }: GroupBlock): string {
  if (kind === 'ad-hoc') return 'where each group is assigned to somebody by name';
  if (kind === 'sdp-sap') return 'which is for sessions announced by SAP';
  return kind === 'dis-transient' ? 'which is for simulators' : 'which nobody may use';
}
