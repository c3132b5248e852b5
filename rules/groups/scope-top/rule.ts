import {
  assignedGroup4,
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  moveWords,
  otherMarks,
  touchOf,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/scope-top',
  summary: 'A stream uses a group of the last 256 of a scope, which protocols own',
  severity: 'error',
  sources: [clause('RFC 2365', '9'), clause('IANA IPv4 Multicast Address Space Registry', 'scope-relative groups')],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('scope-top') ?? [],
      ({ group, sender }) => `${formatAddress(group ?? 0)}${inRig(sender.rig)}`,
    );
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs, names, subject } = set;
      const { group } = first;
      if (typeof group !== 'number') continue;
      const owner = assignedGroup4(group);
      const held = owner !== undefined && !owner.protocol.startsWith('reserved');
      const top = `${formatAddress((group & 0xffffff00) >>> 0)}/24`;
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} lies in ${top}, the top of a scope, where groups belong to protocols${held ? `; this one is ${owner.protocol}'s` : ''}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(group)}`, 'group'),
        others: otherMarks(set),
        onAir: held
          ? `every device that speaks ${owner.protocol} gets the stream: slow ones stall, and discovery stops working`
          : 'nothing today; a protocol that is given this group later runs into the stream',
        fix: moveWords(model, legs),
        touch: touchOf(first.sender),
      };
    }
  },
});
