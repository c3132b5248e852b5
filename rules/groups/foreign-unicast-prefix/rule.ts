import { regroup } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatPrefix,
  groupsOf,
  inRig,
  type Leg,
  movesOf,
} from '../../../src/doors/rule.js';
import {
  embeddedPrefixFault,
  embeddedUnicastPrefix,
  legSets,
  setDraft,
  type EmbeddedPrefixFault,
} from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/foreign-unicast-prefix',
  summary: 'Streams use groups that belong to the holder of a unicast prefix the rig does not hold',
  severity: 'warning',
  sources: [clause('RFC 6034', '3')],
  needs: ['groups'],
  brief: "group of another's prefix",
  harm: 'paper',
  *check({ model }) {
    const foreign = model.misplaced.get('foreign-unicast-prefix') ?? [];
    const sets = legSets(
      foreign,
      (leg) => `234.0.0.0/8, ${SUBJECTS[faultOf(leg) ?? 'foreign']}${inRig(leg.sender.rig)}`,
    );
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { legs } = set;
      const prefixes = groupsOf(legs).flatMap((group) =>
        typeof group === 'number' ? (embeddedUnicastPrefix(group) ?? []) : [],
      );
      yield {
        ...setDraft(set),
        cure: () => regroup(model, legs),
        facts: { legs, prefixes: prefixes.map(formatPrefix), fault: faultOf(set.first), moves: movesOf(model, legs) },
      };
    }
  },
  words,
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
