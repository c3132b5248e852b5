import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  isNonEmpty,
  lastOf,
  mark,
  namesakes,
  oddSigns,
  spellingOf,
} from '../../../src/lint/rule.js';
import { nameScopes } from './scopes.js';
import { words, type Alike, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/look-alike-names',
  summary: 'Two names that people take for one another',
  severity: 'warning',
  confidence: 'likely',
  sources: [clause('UTS #39', '4'), commonPractice('names are told apart on a label and on the radio')],
  needs: [],
  *check({ plan }) {
    for (const { within, things } of nameScopes(plan)) {
      for (const alike of namesakes([...things.keys()])) {
        const names = byLabel(alike, (name) => name);
        const named = names.flatMap((name) => things.get(name)?.slice(0, 1) ?? []);
        if (!isNonEmpty(named)) continue;
        const marks = named.map(({ entity, word }) => mark(entity, `${word} ${entity.name}`, 'name'));
        const last = lastOf(named);
        const odd = oddSigns(names);
        yield {
          subject: `${names.join(', ')}${within === '' ? '' : ` of ${within}`}`,
          parties: names,
          facts: { names, alike: odd.length === 0 ? howAlike(names) : 'look', odd },
          at: mark(last.entity, `${last.word} ${last.entity.name}`, 'name'),
          others: marks.slice(0, -1),
          touch: last.touch,
        };
      }
    }
  },
  words,
});

function howAlike(names: readonly string[]): Alike {
  if (new Set(names.map(spellingOf)).size > 1) return 'look';
  return new Set(names.map((name) => name.toLowerCase())).size === 1 ? 'case' : 'spelling';
}
