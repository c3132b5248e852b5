import { clauseFromMemory, commonPractice, defineRule, noted } from '../../../src/doors/rule.js';
import { clockMark, clockSubject, clockTouch, meetingPorts } from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'meets'>({
  id: 'timing/ports-meet',
  summary: 'More than two PTP ports of one clock stand on one segment',
  severity: 'note',
  people: 'which of the ports are to be on networks of their own',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '9.3.3'),
    commonPractice('a clock has one port on a segment, and a second one at most as a spare'),
  ],
  needs: ['clocks', 'interfaceVlans'],
  brief: 'ports meet on one segment',
  harm: 'later',
  *check({ model }) {
    for (const { clock, ports } of meetingPorts(model.timing)) {
      const names = ports.map(({ attachment }) => attachment.name);
      const [first] = ports;
      yield {
        subject: `ports ${names.join(', ')} of ${clockSubject(clock)}`,
        parties: [clock.name],
        facts: { clock: clock.name, ports: names, where: first.attachment.section.title },
        at: noted(clockMark(clock), 'meets'),
        touch: clockTouch(clock),
      };
    }
  },
  words,
});
