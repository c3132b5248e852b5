import {
  clause,
  clockMark,
  clocksByName,
  clockCount,
  commonPractice,
  defineRule,
  isCircuit,
  isUntraceable,
  linkLabel,
  listNames,
  lossOfLinks,
  mark,
  settledIslands,
  inRig,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/over-wan',
  summary: 'A site takes its time over a circuit alone',
  severity: 'warning',
  sources: [clause('IEEE 1588-2008', '7.4.2'), commonPractice('each site has a grandmaster of its own')],
  needs: ['clocks', 'circuits'],
  *check({ plan, model: { timing } }) {
    const circuits = plan.links.filter(isCircuit);
    const [at] = circuits;
    if (at === undefined || settledIslands(timing).length < timing.groups.flatMap(({ islands }) => islands).length)
      return;
    const { alone, handovers } = timing.without(lossOfLinks(circuits));
    const astray = clocksByName([
      ...alone,
      ...handovers.flatMap(({ to, followers }) => (isUntraceable(to) ? followers : [])),
    ]);
    const [first] = astray;
    if (first === undefined) return;
    const names = astray.map(({ name }) => name);
    const labels = circuits.map(linkLabel);
    yield {
      subject: `${[...labels].sort().join(', ')}${inRig(at.rig)}`,
      parties: [...labels, ...names],
      what: `${clockCount(astray.length)} (${listNames(names)}) ${names.length === 1 ? 'gets its' : 'get their'} time over ${listNames(labels)} alone: without it no grandmaster with a reference is in reach`,
      at: mark(at, linkLabel(at)),
      others: astray.slice(0, 6).map((one) => clockMark(one, 'far from its grandmaster')),
      onAir:
        'delay that differs between the two directions turns into an error of half the difference, and when the circuit is lost the far side drifts: pictures and sound slip, and step when it is back',
      fix: 'put a grandmaster with a satellite or other primary reference at the far side, in the same domain; both sides then keep the same time without the circuit',
      touch: { kind: 'link', name: linkLabel(at) },
    };
  },
});
