import {
  clause,
  clockMark,
  clockSubject,
  clockTouch,
  clocksByName,
  defineRule,
  groupBy,
  listNames,
  type Clock,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/delay-mechanism-mixed',
  summary: 'A follower measures delay in a way its leader does not answer',
  severity: 'error',
  sources: [clause('IEEE 1588-2008', '11.2'), clause('SMPTE ST 2059-2', '6.6')],
  needs: ['clocks'],
  *check({ model: { timing } }) {
    const pairs = timing.delayMismatches.filter(({ follower, parent }) => isStated(follower) && isStated(parent));
    for (const same of groupBy(pairs, ({ parent }) => `${parent.name} ${parent.rig.name} ${parent.domain}`).values()) {
      const [pair] = same;
      const followers = clocksByName(same.map(({ follower }) => follower));
      const [first] = followers;
      if (pair === undefined || first === undefined) continue;
      const { parent } = pair;
      const names = followers.map(({ name }) => name);
      yield {
        subject: clockSubject(parent),
        parties: [parent.name, ...names],
        what: `${listNames(names)} ${names.length === 1 ? 'measures' : 'measure'} path delay ${WORDS[first.delayMechanism]}, ${parent.name} ${names.length === 1 ? 'it follows' : 'they follow'} ${WORDS[parent.delayMechanism]}`,
        at: clockMark(first, first.delayMechanism, 'delayMechanism'),
        others: [
          ...followers.slice(1).map((one) => clockMark(one, one.delayMechanism, 'delayMechanism')),
          clockMark(parent, parent.delayMechanism, 'delayMechanism'),
        ],
        onAir: `${names.length === 1 ? 'it chooses its' : 'they choose their'} grandmaster and never ${names.length === 1 ? 'locks' : 'lock'}: pictures and sound of ${names.length === 1 ? 'it' : 'them'} drift from switch-on`,
        fix: `set delayMechanism ${parent.delayMechanism} on ${listNames(names)}`,
        touch: clockTouch(first),
      };
    }
  },
});

const WORDS = { e2e: 'end to end', p2p: 'from peer to peer' } as const;

function isStated({ settings, planned }: Clock): boolean {
  return settings.delayMechanism !== undefined || planned?.delayMechanism !== undefined;
}
