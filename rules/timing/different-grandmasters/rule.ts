import { clause, clauseFromMemory, defineRule, groupBy, inRig, noted } from '../../../src/doors/rule.js';
import {
  clockMark,
  clockTouch,
  clocksByName,
  isUntraceable,
  settledIslands,
  type Leader,
} from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'no reference'>({
  id: 'timing/different-grandmasters',
  summary: 'Parts of a rig follow different grandmasters',
  severity: 'error',
  people: 'which of them gets an antenna, or where the networks are joined',
  sources: [clause('IEEE 1588-2008', '7.6.2.4'), clauseFromMemory('IEEE 1588-2008', '9.3.3')],
  needs: ['clocks', 'grandmasters'],
  brief: 'follows another grandmaster',
  harm: 'spoils',
  *check({ model }) {
    const leaders = settledIslands(model.timing).flatMap((island) => island.leaders.filter(isFollowedAndMeant));
    for (const apart of groupBy(leaders, ({ clock }) => `${clock.domain} ${clock.rig.name}`).values()) {
      if (apart.length < 2) continue;
      const followers = new Map(apart.map((leader) => [leader.clock, leader.followers]));
      const clocks = clocksByName(apart.map(({ clock }) => clock));
      const place = clocks.find(isUntraceable);
      if (place === undefined) continue;
      yield {
        subject: `domain ${place.domain}${inRig(place.rig)}`,
        parties: clocks.map(({ name }) => name),
        facts: {
          domain: place.domain,
          leaders: clocks.map((clock) => ({
            name: clock.name,
            clockClass: clock.quality.clockClass,
            followers: followers.get(clock) ?? 0,
          })),
          unreferenced: place.name,
        },
        at: noted(clockMark(place, 'clockClass'), 'no reference'),
        others: clocks.filter((one) => one !== place).map((one) => clockMark(one, 'clockClass')),
        touch: clockTouch(place),
      };
    }
  },
  words,
});

/** A clock that is not meant to lead is `timing/wrong-grandmaster-wins`. */
function isFollowedAndMeant({ clock, followers }: Leader): boolean {
  return followers > 0 && clock.meantToLead;
}
