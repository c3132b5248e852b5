import { clause, defineRule, groupBy, isNonEmpty, mark, noted, touchOf, type Sender } from '../../../src/doors/rule.js';
import { descriptionDifferences, type DescriptionDifference } from '../../../src/doors/streams.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'streams/description-differs',
  summary: 'A description of a stream contradicts the plan',
  severity: 'error',
  people: 'whether the plan or the description is the older one',
  sources: [clause('RFC 8866', '5.14'), clause('RFC 8866', '5.7'), clause('ST 2110-10', '8.1')],
  needs: ['descriptions'],
  brief: 'description differs from the plan',
  harm: 'spoils',
  *check({ plan }) {
    for (const [planned, ofPlanned] of groupBy(plan.descriptions, ({ of }) => of)) {
      for (const [name, list] of groupBy(ofPlanned, ({ sender }) => sender.label)) {
        const found = distinct(list.flatMap(({ sender }) => descriptionDifferences(planned, sender)));
        const marks = found.flatMap(({ fact, described, planned: value, at: here, beside }) => [
          noted(mark(here.entity, name, here.key), { fact, value: described }),
          noted(mark(beside.entity, planned.label, beside.key), { fact, value }),
        ]);
        if (!isNonEmpty(marks)) continue;
        const [at, ...others] = marks;
        yield {
          subject: `${planned.label} described as ${name}`,
          parties: [planned.label, name],
          severity: found.every(({ slight }) => slight) ? 'warning' : 'error',
          facts: { sender: planned, description: name, differences: together(found, planned) },
          at,
          others,
          touch: touchOf(planned),
        };
      }
    }
  },
  words,
});

/** A file may be given twice: each difference once. */
function distinct(found: readonly DescriptionDifference[]): readonly DescriptionDifference[] {
  return [...new Map(found.map((one) => [`${one.leg ?? 'format'} ${keyOf(one)}`, one])).values()];
}

/** Legs with one difference together; none named where all are concerned. */
function together(found: readonly DescriptionDifference[], { legs }: Sender): Facts['differences'] {
  return [...groupBy(found, keyOf).values()].map((list) => {
    const [{ fact, planned, described }] = list;
    const concerned = list.flatMap(({ leg }) => (leg === undefined ? [] : [leg + 1]));
    return { fact, planned, described, legs: concerned.length === legs.length ? [] : concerned };
  });
}

function keyOf({ fact, described, planned }: DescriptionDifference): string {
  return `${fact} ${described} ${planned}`;
}
