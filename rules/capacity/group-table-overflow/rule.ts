import { byLabel, clause, commonPractice, defineRule, mark, noted, type Switch } from '../../../src/doors/rule.js';
import { tableUses } from '../../../src/doors/capacity.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'capacity/group-table-overflow',
  summary: 'A switch must hold more groups than its table has room for',
  severity: 'error',
  sources: [
    clause('RFC 4541', '2.1.2'),
    commonPractice('switches make an entry for every group joined through them, many also for streams that only pass'),
  ],
  needs: ['groups', 'switchPorts', 'groupTables'],
  thresholds: { percent: { default: 80, what: 'share of a group table that may be used, in percent' } },
  *check({ plan, model, threshold }) {
    const percentOf = (one: Switch): number => threshold('percent', one.rig);
    const full = tableUses(plan, model.network).filter((use) => use.all * 100 > use.size * percentOf(use.switch));
    for (const { switch: one, size, key, joined, all } of byLabel(full, (use) => use.switch.name)) {
      const { name, snoopingKey, tableFull } = one;
      const percent = percentOf(one);
      // Whether streams that only pass take an entry is the switch's own affair, as is its key where none is stated.
      const assumed = key === undefined || joined * 100 <= size * percent;
      yield {
        subject: name,
        parties: [name],
        severity: joined > size && key !== undefined ? 'error' : 'warning',
        confidence: assumed ? 'assumed' : joined > size ? 'certain' : 'likely',
        facts: { switch: one, entries: size, key, joined, all, whenFull: tableFull, percent },
        at: noted(mark(one, name, 'groupTableSize'), { entries: size }),
        others: [
          ...(snoopingKey === undefined ? [] : [noted(mark(one, name, 'snoopingKey'), { key: snoopingKey })]),
          ...(tableFull === undefined ? [] : [noted(mark(one, name, 'tableFull'), { whenFull: tableFull })]),
        ],
        touch: { kind: 'switch', name },
      };
    }
  },
  words,
});
