import { byLabel, commonPractice, defineRule, otherPlaces } from '../../../src/doors/rule.js';
import {
  elementLabel,
  elementMarks,
  elementSubject,
  elementTouch,
  lonePoints,
  namedElement,
} from '../../../src/doors/redundancy.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'redundancy/single-point',
  summary: 'One failure takes many streams that have one leg, in a rig that has two networks',
  severity: 'note',
  confidence: 'likely',
  people: 'whether a spare at hand is enough',
  sources: [commonPractice('whoever runs two networks wants to know what still depends on one')],
  needs: ['pairs', 'receivers', 'switchPorts'],
  brief: 'single point of failure',
  harm: 'exposes',
  thresholds: { streams: { default: 10, what: 'streams that one failure may take without a note' } },
  *check({ plan, model, threshold }) {
    if (model.keptApart) return;
    const points = lonePoints(
      model.failures,
      (rig) => threshold('streams', rig),
      ({ legs }) => legs.some(model.strays.meant),
    );
    for (const { fate, streams } of points) {
      const { element, lost } = fate;
      const [at, ...others] = elementMarks(plan, element);
      if (at === undefined) continue;
      const names = byLabel(
        streams.map(({ label }) => label),
        (name) => name,
      );
      yield {
        subject: elementSubject(element),
        parties: [elementLabel(element), ...names],
        facts: {
          element: namedElement(element),
          streams: names,
          halves: streams.filter(({ legs }) => legs.length > 1).length,
          receivers: new Set(lost.map(({ receiver }) => receiver)).size,
        },
        hits: [...new Set(lost.map(({ receiver }) => receiver))],
        at,
        others: otherPlaces(at, others),
        touch: elementTouch(plan, element),
      };
    }
  },
  words,
});
