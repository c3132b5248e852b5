import { byLabel, clauseFromMemory, commonPractice, defineRule, inRig, mark, noted } from '../../../src/doors/rule.js';
import { clockMark, unawareSwitches } from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'boundary clock'>({
  id: 'timing/clock-unaware-switch',
  summary: 'A switch that is no clock stands among boundary clocks',
  severity: 'warning',
  people: 'whether the switch can be a boundary or a transparent clock',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '6.5'),
    commonPractice('every switch between grandmaster and device is a boundary clock'),
  ],
  needs: ['clocks', 'switchPorts'],
  brief: 'switch is no clock',
  harm: 'spoils',
  *check({ model: { timing } }) {
    const found = unawareSwitches(timing);
    for (const { at, served, boundary } of byLabel(found, ({ at: one }) => `${one.name} ${one.rig.name}`)) {
      const isStated = at.ptp !== undefined;
      const names = served.map(({ name }) => name);
      yield {
        subject: `${at.name}${inRig(at.rig)}`,
        parties: [at.name, ...names],
        severity: isStated ? 'warning' : 'note',
        confidence: isStated ? 'certain' : 'assumed',
        facts: { switch: at.name, isStated, served: names, boundary: boundary.map(({ name }) => name) },
        at: isStated ? mark(at.ptp, at.name, 'mode') : mark(at, at.name, 'name'),
        others: boundary.slice(0, 6).map((one) => noted(clockMark(one, 'mode'), 'boundary clock')),
        touch: { kind: 'switch', name: at.name },
      };
    }
  },
  words,
});
