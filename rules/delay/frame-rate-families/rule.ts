import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  frameFamilies,
  listNames,
  mark,
  touchOf,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'delay/frame-rate-families',
  summary: 'A rig has pictures of two frame rate families and no converter',
  severity: 'note',
  sources: [clause('ST 2110-20', '7.2'), commonPractice('one frame rate family to a rig')],
  needs: ['frameRates'],
  *check({ plan }) {
    for (const { rig, senders, converts } of frameFamilies(plan)) {
      if (converts) continue;
      const families = [...senders].sort(([a], [b]) => Number(a) - Number(b));
      const fewest = families.reduce((a, b) => (b[1].length < a[1].length ? b : a));
      const [odd, ...rest] = byLabel(fewest[1], ({ label }) => label);
      if (odd === undefined) continue;
      const names = families.map(([family]) => family);
      yield {
        subject: `frame rates in rig ${rig.name}`,
        parties: fewest[1].map(({ label }) => label),
        what:
          `rig ${rig.name} has pictures of the ${listNames(names)} Hz families, ` +
          `${listNames([odd, ...rest].map(({ label }) => label))} of the ${fewest[0]} Hz one, and no device that takes one and sends the other`,
        at: mark(odd, `${odd.label}: ${fewest[0]} Hz family`, 'format'),
        others: rest.map((sender) => mark(sender, `${sender.label}: ${fewest[0]} Hz family`, 'format')),
        onAir:
          'cut straight into the others such a picture jumps, rolls or is refused, and lights of the other mains frequency flicker in it',
        fix: `set ${rest.length === 0 ? 'it' : 'them'} to the rates of the others, or plan the converter with what it takes and sends`,
        touch: touchOf(odd),
      };
    }
  },
});
