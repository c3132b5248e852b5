import {
  byLabel,
  commonPractice,
  defineRule,
  elementLabel,
  elementMarks,
  elementSubject,
  elementTouch,
  listNames,
  otherPlaces,
  singlePoints,
  streamsOf,
  type Element,
  type Fate,
  type Sender,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'redundancy/single-point',
  summary: 'One failure takes many streams that have one leg, in a rig that has two networks',
  severity: 'note',
  sources: [commonPractice('whoever runs two networks wants to know what still hangs on one')],
  needs: ['pairs', 'receivers', 'switchPorts'],
  thresholds: { streams: { default: 10, what: 'streams that one failure may take without a note' } },
  *check({ plan, model, threshold }) {
    const most = threshold('streams');
    if (model.keptApart) return;
    for (const { fate, streams } of worst(singlePoints(model.failures), most)) {
      const { element, lost } = fate;
      const [at, ...others] = elementMarks(plan, element);
      if (at === undefined) continue;
      const names = byLabel(
        streams.map(({ label }) => label),
        (name) => name,
      );
      const takers = new Set(lost.map(({ receiver }) => receiver)).size;
      yield {
        subject: elementSubject(element),
        parties: [elementLabel(element), ...names],
        what: `${elementLabel(element)} alone carries ${names.length} streams to ${takers} ${takers === 1 ? 'receiver' : 'receivers'} that take one leg: ${listNames(names, 4)}${halfWords(streams)}`,
        at,
        others: otherPlaces(at, others),
        onAir: `when ${elementLabel(element)} fails these receivers are black until it is mended; the second network does not help them`,
        fix: `${advice(streams)}, or know it and have a spare at hand; accept it with a waiver`,
        touch: elementTouch(plan, element),
      };
    }
  },
});

function halfWords(streams: readonly Sender[]): string {
  const halves = streams.filter(({ legs }) => legs.length > 1).length;
  if (halves === 0) return '';
  return `; ${halves === streams.length ? 'all' : halves} of them have a second leg that these receivers do not take`;
}

interface Worst {
  readonly fate: Fate;
  readonly streams: readonly Sender[];
}

/** The worst first; what takes nothing more than those before it is left out, as the leaf behind a lone core is. */
function worst(fates: readonly Fate[], most: number): readonly Worst[] {
  const many = fates
    .map((fate) => ({ fate, streams: streamsOf(fate.lost) }))
    .filter(({ streams }) => streams.length >= most);
  const ranked = byLabel(
    many,
    ({ fate: { element } }) => `${KINDS.indexOf(element.kind)} ${elementSubject(element)}`,
  ).toSorted((a, b) => b.streams.length - a.streams.length || b.fate.lost.length - a.fate.lost.length);
  const told = new Set<unknown>();
  return ranked.filter(({ fate: { lost } }) => {
    const fresh = lost.some((one) => !told.has(one));
    for (const one of lost) told.add(one);
    return fresh;
  });
}

/** Of those that take the same the one a crew thinks of first. */
const KINDS: readonly Element['kind'][] = ['switch', 'device', 'link', 'risk', 'power feed', 'interface'];

function advice(streams: readonly Sender[]): string {
  return streams.every(({ legs }) => legs.length > 1)
    ? 'let the receivers take the second leg'
    : 'give the streams that matter a second leg';
}
