import {
  clauseFromMemory,
  commonPractice,
  defineRule,
  lastOf,
  mapAll,
  mark,
  touchOfKind,
  type Touch,
} from '../../../src/doors/rule.js';
import { alikeNames, type AlikeThing } from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/look-alike-names',
  summary: 'Two names that people take for one another',
  severity: 'warning',
  confidence: 'likely',
  people: 'what the crew is to call them',
  sources: [clauseFromMemory('UTS #39', '4'), commonPractice('names are told apart on a label and on the radio')],
  needs: [],
  brief: 'names easily confused',
  harm: 'later',
  *check({ plan }) {
    for (const { within, kind, things, difference, oddSigns } of alikeNames(plan)) {
      const owner = kind === undefined ? within : `kind ${kind.name}`;
      const names = things.map(({ entity }) => entity.name);
      const marks = mapAll(things, ({ what, entity }) => mark(entity, `${what} ${entity.name}`, 'name'));
      yield {
        subject: `${names.join(', ')}${owner === undefined ? '' : ` of ${owner}`}`,
        parties: names,
        facts: { names, difference, oddSigns },
        at: lastOf(marks),
        others: marks.slice(0, -1),
        touch: kind === undefined ? touchOfThing(lastOf(things)) : touchOfKind(kind),
      };
    }
  },
  words,
});

function touchOfThing(thing: AlikeThing): Touch {
  if (thing.what === 'sender') return { kind: 'device', name: thing.device.name };
  return { kind: thing.what === 'VLAN' ? 'vlan' : thing.what, name: thing.entity.name };
}
