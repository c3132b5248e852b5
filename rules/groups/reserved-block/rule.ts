import {
  byLabel,
  clause,
  defineRule,
  formatRange,
  inRig,
  type Citation,
  type Leg,
  movesOf,
} from '../../../src/doors/rule.js';
import { classifyGroup4, legSets, setDraft } from '../../../src/doors/groups.js';
import { regroup } from '../../../src/doors/cures.js';
import { blockWords, words, type Facts } from './words.js';

const CLAUSES = {
  reserved: clause('RFC 5771', '13'),
  adHoc: clause('RFC 5771', '6'),
  session: clause('RFC 5771', '7.1'),
  adHoc3: clause('RFC 5771', '9.2'),
  simulators: clause('RFC 2365', '6.3'),
};

export default defineRule<Facts, string>({
  id: 'groups/reserved-block',
  summary: 'Streams use a block of groups that is not theirs to use',
  severity: 'error',
  sources: Object.values(CLAUSES),
  needs: ['groups'],
  brief: 'group from a reserved block',
  *check({ model }) {
    const reserved = model.misplaced.get('reserved-block') ?? [];
    const sets = legSets(reserved, (leg) => {
      const block = blockOf(leg);
      return `${block === undefined ? '' : blockWords(block)}${inRig(leg.sender.rig)}`;
    });
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs } = set;
      const block = blockOf(first);
      if (block === undefined) continue;
      yield {
        ...setDraft(set),
        severity: block.kind === 'ad-hoc' ? 'warning' : 'error',
        cure: () => regroup(model, legs),
        facts: { legs, block, moves: movesOf(model, legs) },
        sources: [clauseOf(first.group, block.kind)],
      };
    }
  },
  words,
});

function blockOf({ group }: Leg): Facts['block'] | undefined {
  if (typeof group !== 'number') return undefined;
  const { kind, title, range } = classifyGroup4(group);
  return { kind, title, range: formatRange(range) };
}

function clauseOf(group: Leg['group'], kind: Facts['block']['kind']): Citation {
  if (kind === 'ad-hoc') return typeof group === 'number' && group >= AD_HOC_3 ? CLAUSES.adHoc3 : CLAUSES.adHoc;
  if (kind === 'sdp-sap') return CLAUSES.session;
  return kind === 'dis-transient' ? CLAUSES.simulators : CLAUSES.reserved;
}

/** 233.252.0.0, where the third of the AD-HOC blocks begins. */
const AD_HOC_3 = 0xe9fc0000;
