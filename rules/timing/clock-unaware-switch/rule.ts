import {
  byLabel,
  clause,
  clockMark,
  commonPractice,
  clockCount,
  defineRule,
  inRig,
  listNames,
  mark,
  unawareSwitches,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/clock-unaware-switch',
  summary: 'A switch that is no clock stands among boundary clocks',
  severity: 'warning',
  sources: [
    clause('IEEE 1588-2008', '6.5'),
    commonPractice('every switch between grandmaster and device is a boundary clock'),
  ],
  needs: ['clocks', 'switchPorts'],
  *check({ model: { timing } }) {
    const found = unawareSwitches(timing);
    for (const { at, served, boundary } of byLabel(found, ({ at: one }) => `${one.name} ${one.rig.name}`)) {
      const names = served.map(({ name }) => name);
      const stated = at.ptp !== undefined;
      yield {
        subject: `${at.name}${inRig(at.rig)}`,
        parties: [at.name, ...names],
        severity: stated ? 'warning' : 'note',
        what: `${at.name} ${stated ? 'is no clock' : 'states no PTP mode'}, and ${clockCount(served.length)} (${listNames(names)}) ${names.length === 1 ? 'gets its' : 'get their'} time through it; ${listNames(boundary.map(({ name }) => name))} ${boundary.length === 1 ? 'is a boundary clock' : 'are boundary clocks'}`,
        at: stated ? mark(at.ptp, at.name, 'mode') : mark(at, at.name, 'name'),
        others: boundary.slice(0, 6).map((one) => clockMark(one, 'boundary clock', 'mode')),
        onAir:
          'time waits there behind pictures, by a different amount for each message: it locks at the line-up and gets worse, or is lost, once all cameras send',
        fix: `make ${at.name} a boundary clock of this domain (class 248), or a transparent clock where it can only do that`,
        touch: { kind: 'switch', name: at.name },
      };
    }
  },
});
