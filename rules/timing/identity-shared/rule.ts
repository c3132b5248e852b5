import { createEditList, likely, peopleDecide, setClocks } from '../../../src/doors/cures.js';
import { clause, clauseFromMemory, defineRule, noted, withRig } from '../../../src/doors/rule.js';
import {
  clockMark,
  clockTouch,
  formatClockIdentity,
  identityByMac,
  sharedIdentities,
  type Clock,
} from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'read again'>({
  id: 'timing/identity-shared',
  summary: 'Two clocks have one clock identity',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 1588-2008', '7.5.2.2.1'), clause('IEEE 1588-2008', '9.3.2.5')],
  needs: ['clocks'],
  brief: 'clock identity held twice',
  harm: 'spoils',
  *check({ model }) {
    for (const { identity, clocks, meets } of sharedIdentities(model.timing)) {
      // The one whose MAC speaks against what it states is the slip.
      const slips = clocks.filter((one) => isUnlikeMac(one));
      const [at = clocks[1]] = slips;
      const isOneRig = clocks.every(({ rig }) => rig === at.rig);
      const names = clocks.map((one) => (isOneRig ? one.name : withRig(one)));
      yield {
        subject: `clock identity ${formatClockIdentity(identity)}`,
        parties: names,
        severity: meets ? 'error' : 'warning',
        cure: () => {
          if (slips.length < clocks.length - 1) return peopleDecide('which identity each box shows');
          const edits = createEditList();
          for (const one of slips) {
            const own = identityByMac(one.owner);
            if (own !== undefined) setClocks(model, edits, [one], { clockIdentity: formatClockIdentity(own) });
          }
          return likely(edits);
        },
        facts: {
          identity: formatClockIdentity(identity),
          clocks: names,
          meets,
          byMac: slips.flatMap((one) => {
            const own = identityByMac(one.owner);
            return own === undefined ? [] : [{ name: one.name, identity: formatClockIdentity(own) }];
          }),
        },
        at: noted(clockMark(at, 'clockIdentity'), 'read again'),
        others: clocks.filter((one) => one !== at).map((one) => clockMark(one, 'clockIdentity')),
        touch: clockTouch(at),
      };
    }
  },
  words,
});

function isUnlikeMac({ owner, settings, quality }: Clock): boolean {
  const own = identityByMac(owner);
  return settings.clockIdentity !== undefined && own !== undefined && own !== quality.identity;
}
