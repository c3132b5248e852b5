import { clause, clauseFromMemory, defineRule, groupBy, mapAll, noted } from '../../../src/doors/rule.js';
import { createEditList, certainly, setClocks } from '../../../src/doors/cures.js';
import { clockMark, clockSubject, clockTouch, clocksByName, type Clock } from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/delay-mechanism-mixed',
  summary: 'A follower measures delay in a way its leader does not answer',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 1588-2008', '11.2'), clause('SMPTE ST 2059-2', '6.6')],
  needs: ['clocks'],
  brief: 'delay measured two ways',
  harm: 'spoils',
  *check({ model }) {
    const { timing } = model;
    const pairs = timing.delayMismatches.filter(({ follower, parent }) => isStated(follower) && isStated(parent));
    for (const same of groupBy(pairs, ({ parent }) => parent).values()) {
      const [{ parent }] = same;
      const followers = clocksByName(mapAll(same, ({ follower }) => follower));
      const [first, ...rest] = followers;
      const names = followers.map(({ name }) => name);
      yield {
        subject: clockSubject(parent),
        parties: [parent.name, ...names],
        cure: () => {
          const edits = createEditList();
          setClocks(model, edits, followers, { delayMechanism: parent.delayMechanism });
          return certainly(edits);
        },
        facts: {
          followers: names,
          parent: parent.name,
          followersMeasure: first.delayMechanism,
          parentMeasures: parent.delayMechanism,
        },
        at: markOf(first),
        others: [...rest, parent].map(markOf),
        touch: clockTouch(first),
      };
    }
  },
  words,
});

function markOf(clock: Clock) {
  return noted(clockMark(clock, 'delayMechanism'), clock.delayMechanism);
}

function isStated({ settings, planned }: Clock): boolean {
  return settings.delayMechanism !== undefined || planned?.delayMechanism !== undefined;
}
