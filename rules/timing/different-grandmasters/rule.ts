import {
  clause,
  clockCount,
  clockMark,
  clockTouch,
  clocksByName,
  defineRule,
  groupBy,
  isUntraceable,
  listNames,
  settledIslands,
  inRig,
  type Leader,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/different-grandmasters',
  summary: 'Parts of a rig follow different grandmasters',
  severity: 'error',
  sources: [clause('IEEE 1588-2008', '7.6.2.4'), clause('IEEE 1588-2008', '9.3.3')],
  needs: ['clocks', 'grandmasters'],
  *check({ model }) {
    const leaders = settledIslands(model.timing).flatMap((island) => island.leaders.filter(isFollowedAndMeant));
    for (const apart of groupBy(leaders, ({ clock }) => `${clock.domain} ${clock.rig.name}`).values()) {
      if (apart.length < 2) continue;
      const clocks = clocksByName(apart.map(({ clock }) => clock));
      const [place] = clocks.filter(isUntraceable);
      if (place === undefined) continue;
      const counts = new Map(apart.map(({ clock, followers }) => [clock, followers]));
      const parts = clocks.map(
        (one) => `${one.name} (clock class ${one.quality.clockClass}) leads ${clockCount(counts.get(one) ?? 0)}`,
      );
      yield {
        subject: `domain ${place.domain}${inRig(place.rig)}`,
        parties: clocks.map(({ name }) => name),
        what: `domain ${place.domain} has ${clocks.length} grandmasters at once, and not all of them have a reference: ${listNames(parts)}`,
        at: clockMark(place, 'without a reference', 'clockClass'),
        others: clocks.filter((one) => one !== place).map((one) => clockMark(one, undefined, 'clockClass')),
        onAir:
          'the parts drift against each other: the two legs of a redundant stream move apart until switching between them clicks or jumps, and pictures of one part slip against those of the other',
        fix: `lock ${place.name} to a primary reference (clock class 6), or join the networks of all of them with boundary clocks, so that one leads and the rest stand by`,
        touch: clockTouch(place),
      };
    }
  },
});

/** A clock that is not meant to lead is `timing/wrong-grandmaster-wins`. */
function isFollowedAndMeant({ clock, followers }: Leader): boolean {
  return followers > 0 && clock.meantToLead;
}
