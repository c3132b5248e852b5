import {
  clause,
  defineRule,
  formatAddress,
  groupsOf,
  groupFitness,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  otherMarks,
  touchOf,
  whereTo,
  type Leg,
} from '../../../src/lint/rule.js';

/** 239.255 in the upper half of a group. */
const LOCAL_SCOPE = 0xefff;
/** Universes of lighting data count from 1 to this. */
const LAST_UNIVERSE = 63_999;

export default defineRule({
  id: 'groups/lighting-range',
  summary: 'Pictures or sound use groups of the range that lighting data is sent in',
  severity: 'note',
  sources: [clause('ANSI E1.31', '9.3.1'), clause('RFC 2365', '6.1')],
  needs: ['groups'],
  *check({ model }) {
    for (const set of legSets(
      model.unusualGroups.filter((leg) => inLightingRange(leg) && !model.strays.isAlone(leg)),
      ({ sender }) => `239.255.0.0/16${inRig(sender.rig)}`,
    )) {
      const { first, legs, names, subject } = set;
      if (typeof first.group !== 'number') continue;
      const many = groupsOf(legs).length > 1;
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} ${many ? 'lie' : 'lies'} in 239.255.0.0/16, where lighting data (sACN) has its universes: ${formatAddress(first.group)} is universe ${first.group & 0xffff}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir:
          "nothing until the venue's lighting shares a network with the rig; then dimmers get pictures or sound, and receivers get lighting data",
        fix: `move ${many ? 'each' : 'it'} to a free group in ${whereTo(model, legs)}, or keep lighting off this network`,
        touch: touchOf(first.sender),
      };
    }
  },
});

function inLightingRange({ group, sender }: Leg): boolean {
  if (typeof group !== 'number' || group >>> 16 !== LOCAL_SCOPE) return false;
  const universe = group & 0xffff;
  if (universe < 1 || universe > LAST_UNIVERSE || (sender.essence !== 'video' && sender.essence !== 'audio'))
    return false;
  return groupFitness(group, sender.rig.house, sender.rig.practice) === 'usable';
}
