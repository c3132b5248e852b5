import { regroup } from '../../../src/doors/cures.js';
import { clause, defineRule, inRig, type Leg } from '../../../src/doors/rule.js';
import { destinationsOf, groupFitness, legSets, setDraft } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

/** 239.255 in the upper half of a group. */
const LOCAL_SCOPE = 0xefff;
/** Universes of lighting data count from 1 to this. */
const LAST_UNIVERSE = 63_999;

export default defineRule<Facts, string>({
  id: 'groups/lighting-range',
  summary: 'Pictures or sound use groups of the range that lighting data is sent in',
  severity: 'note',
  sources: [clause('ANSI E1.31', '9.3.1'), clause('RFC 2365', '6.1')],
  needs: ['groups'],
  brief: 'group of the lighting range',
  harm: 'later',
  *check({ model }) {
    const legs = model.unusualLegs.groups.filter((leg) => inLightingRange(leg) && !model.strays.isAlone(leg));
    for (const set of legSets(legs, ({ sender }) => `239.255.0.0/16${inRig(sender.rig)}`)) {
      const { group } = set.first;
      if (typeof group !== 'number') continue;
      yield {
        ...setDraft(set),
        cure: () => regroup(model, set.legs),
        facts: { legs: set.legs, universe: group & 0xffff, to: destinationsOf(model, set.legs) },
      };
    }
  },
  words,
});

function inLightingRange({ group, sender }: Leg): boolean {
  if (typeof group !== 'number' || group >>> 16 !== LOCAL_SCOPE) return false;
  const universe = group & 0xffff;
  if (universe < 1 || universe > LAST_UNIVERSE || (sender.essence !== 'video' && sender.essence !== 'audio'))
    return false;
  return groupFitness(group, sender.rig.conventions, sender.rig.practice) === 'usable';
}
