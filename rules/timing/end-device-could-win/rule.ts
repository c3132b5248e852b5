import { clause, clauseFromMemory, commonPractice, defineRule, noted } from '../../../src/doors/rule.js';
import { createEditList, certainly, setClocks } from '../../../src/doors/cures.js';
import {
  adriftClocks,
  clockMark,
  clockTouch,
  clocksByName,
  endDeviceTakeover,
  intendedLeaders,
  isEndDevice,
  islandSubject,
  mayLead,
  settledIslands,
  type Island,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/end-device-could-win',
  summary: 'When the grandmasters are lost an end device takes over',
  severity: 'warning',
  sources: [
    clause('IEEE 1588-2008', '9.2.6.11'),
    clauseFromMemory('IEEE 1588-2008', '9.3.3'),
    commonPractice('cameras and stage boxes only follow'),
  ],
  needs: ['clocks', 'grandmasters'],
  brief: 'end device could lead',
  harm: 'later',
  *check({ model }) {
    const { timing } = model;
    const adrift = new Set(adriftClocks(timing));
    for (const island of settledIslands(timing)) {
      const intended = intendedLeaders(island);
      // What is on its own time already is told to follow by another rule.
      const able = clocksByName(island.clocks.filter((one) => isEndDevice(one) && mayLead(one) && !adrift.has(one)));
      // Where one leads already, `timing/wrong-grandmaster-wins` speaks.
      if (intended.length === 0 || able.length === 0 || leadsAlready(island)) continue;
      const found = endDeviceTakeover(intended, island, timing);
      if (found === undefined) continue;
      const { lost, to, times } = found;
      const others = able.filter((one) => one !== to);
      const beforeBackup = lost.length < intended.length;
      yield {
        subject: islandSubject(island),
        parties: able.map(({ name }) => name),
        severity: beforeBackup ? 'error' : 'warning',
        cure: () => {
          const edits = createEditList();
          setClocks(model, edits, able, { slaveOnly: true });
          return certainly(edits);
        },
        facts: {
          domain: to.domain,
          lost: clocksByName(lost).map(({ name }) => name),
          to: to.name,
          takeover: times.standby,
          beforeBackup,
          others: others.map(({ name }) => name),
          boundaryClocks: island.clocks.some(({ relays }) => relays),
        },
        at: noted(clockMark(to, 'slaveOnly'), 'takes over'),
        others: [
          ...others.map((one) => noted(clockMark(one, 'slaveOnly'), 'could take over')),
          ...lost.map((one) => noted(clockMark(one), 'lost')),
        ],
        touch: clockTouch(to),
      };
    }
  },
  words,
});

function leadsAlready({ leaders }: Island): boolean {
  return leaders.some(({ clock, followers }) => followers > 0 && !clock.meantToLead);
}
