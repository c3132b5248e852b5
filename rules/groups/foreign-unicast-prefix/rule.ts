import {
  byLabel,
  clause,
  defineRule,
  embeddedPrefixFault,
  embeddedUnicastPrefix,
  formatAddress,
  formatPrefix,
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
  type EmbeddedPrefixFault,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/foreign-unicast-prefix',
  summary: 'Streams use groups that belong to the holder of a unicast prefix the rig does not hold',
  severity: 'warning',
  sources: [clause('RFC 6034', '3')],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('foreign-unicast-prefix') ?? [],
      (leg) => `234.0.0.0/8, ${SUBJECTS[faultOf(leg) ?? 'foreign']}${inRig(leg.sender.rig)}`,
    );
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs, names, subject } = set;
      if (typeof first.group !== 'number') continue;
      const fault = faultOf(first);
      const prefixes = groupsOf(legs)
        .flatMap((group) => (typeof group === 'number' ? (embeddedUnicastPrefix(group) ?? []) : []))
        .map(formatPrefix);
      const many = prefixes.length > 1;
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} ${many ? 'carry the prefixes' : 'carries the prefix'} ${listNames(prefixes)}, ${fault === undefined ? "which the plan does not list among the rig's own" : `${FAULTS[fault]}, so nobody can own ${many ? 'them' : 'it'}`}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir:
          fault === undefined
            ? 'nothing while the rig stands alone; on a network shared with the holder, receivers get both streams and the picture breaks up'
            : 'nothing while the rig stands alone; a second rig with the same habit and the same private addresses collides with it when the two are joined',
        fix: `${moveWords(model, legs)}${fault === undefined ? '; if the rig holds the prefix, list it under `house: {prefixes: […]}`' : ''}`,
        touch: touchOf(first.sender),
      };
    }
  },
});

function faultOf({ group }: Leg): EmbeddedPrefixFault | undefined {
  return typeof group === 'number' ? embeddedPrefixFault(group) : undefined;
}

const SUBJECTS: Readonly<Record<EmbeddedPrefixFault | 'foreign', string>> = {
  foreign: 'prefixes not held',
  'private-use': 'private prefixes',
  loopback: 'loopback prefixes',
  multicast: 'multicast prefixes',
  'link-local': 'link-local prefixes',
  'not-global': 'prefixes without a holder',
};

const FAULTS: Readonly<Record<EmbeddedPrefixFault, string>> = {
  'private-use': 'private addresses',
  loopback: 'loopback addresses',
  multicast: 'itself multicast',
  'link-local': 'link-local addresses',
  'not-global': 'set aside for a special purpose',
};
