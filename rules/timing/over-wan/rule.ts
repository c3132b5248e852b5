import {
  clauseFromMemory,
  commonPractice,
  defineRule,
  inRig,
  isNonEmpty,
  linkLabel,
  mark,
  noted,
} from '../../../src/doors/rule.js';
import {
  clockMark,
  clocksByName,
  isCircuit,
  isUntraceable,
  lossOfLinks,
  settledIslands,
} from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'far'>({
  id: 'timing/over-wan',
  summary: 'A site takes its time over a circuit alone',
  severity: 'warning',
  people: 'where another grandmaster is to stand',
  sources: [clauseFromMemory('IEEE 1588-2008', '7.4.2'), commonPractice('each site has a grandmaster of its own')],
  needs: ['clocks', 'circuits'],
  brief: 'time over a circuit alone',
  harm: 'later',
  *check({ plan, model: { timing } }) {
    const circuits = plan.links.filter(isCircuit);
    if (!isNonEmpty(circuits)) return;
    if (settledIslands(timing).length < timing.groups.flatMap(({ islands }) => islands).length) return;
    const [at] = circuits;
    const { alone, handovers } = timing.without(lossOfLinks(circuits));
    const untraceable = handovers.flatMap(({ to, followers }) => (isUntraceable(to) ? followers : []));
    const astray = clocksByName([...alone, ...untraceable]);
    if (astray.length === 0) return;
    const names = astray.map(({ name }) => name);
    const labels = circuits.map(linkLabel);
    yield {
      subject: `${labels.toSorted().join(', ')}${inRig(at.rig)}`,
      parties: [...labels, ...names],
      facts: { clocks: names, circuits },
      at: mark(at, linkLabel(at)),
      others: astray.slice(0, 6).map((one) => noted(clockMark(one), 'far')),
      touch: { kind: 'link', name: linkLabel(at) },
    };
  },
  words,
});
