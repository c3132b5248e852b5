import { byLabel, clause, commonPractice, defineRule, mark, noted, type Switch } from '../../../src/doors/rule.js';
import { chosenStreams, tableUses, type ChosenEntries } from '../../../src/doors/capacity.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'capacity/group-table-overflow',
  summary: 'A switch must hold more groups than its table has room for',
  severity: 'error',
  people: 'which switch has room, or how the VLANs are parted',
  sources: [
    clause('RFC 4541', '2.1.2'),
    commonPractice('switches make an entry for every group joined through them, many also for streams that only pass'),
  ],
  needs: ['groups', 'switchPorts', 'groupTables'],
  brief: 'more groups than its table holds',
  thresholds: { percent: { default: 80, what: 'share of a group table that may be used, in percent' } },
  harm: 'spoils',
  *check({ plan, model, threshold }) {
    const percentOf = (one: Switch): number => threshold('percent', one.rig);
    const full = tableUses(plan, model.network).filter((use) => use.all * 100 > use.size * percentOf(use.switch));
    for (const { switch: one, size, key, joined, all, chosen } of byLabel(full, (use) => use.switch.name)) {
      const { name, snoopingKey, tableFull } = one;
      const percent = percentOf(one);
      // Whether streams that only pass take an entry is the switch's own affair, as is its key where none is stated.
      const sure = sureEntries(joined, chosen);
      const assumed = key === undefined || sure * 100 <= size * percent || (sure <= size && joined > size);
      yield {
        subject: name,
        parties: [name],
        severity: sure > size && key !== undefined ? 'error' : 'warning',
        confidence: assumed ? 'assumed' : sure > size ? 'certain' : 'likely',
        facts: {
          switch: one,
          entries: size,
          key,
          joined,
          all,
          whenFull: tableFull,
          percent,
          chosen: factsOf(chosen, all, (size * percent) / 100),
        },
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

/** What is joined for sure, in one choice or another, by what the plan states. */
function sureEntries(joined: number, chosen: ChosenEntries | undefined): number {
  if (chosen === undefined) return joined;
  return joined - chosen.joined + (chosen.exact ? chosen.leftFirst.joined : 0);
}

function factsOf(chosen: ChosenEntries | undefined, all: number, limit: number): Facts['chosen'] {
  if (chosen === undefined) return undefined;
  // A stream that passes anyway has an entry, and is still joined by choice only.
  const by = chosen.joined > 0 ? 'joined' : 'all';
  const relieved = all - chosen.all + chosen.leftFirst.all;
  return {
    entries: chosen[by],
    leftFirst: chosen.leftFirst[by],
    streams: chosenStreams(chosen.legs),
    exact: chosen.exact,
    relieved: chosen.leftFirst.all < chosen.all && relieved <= limit ? relieved : undefined,
  };
}
