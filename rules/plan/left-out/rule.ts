import { createCompletion, createEditList, likely, peopleDecide, writeCompletion } from '../../../src/doors/cures.js';
import { commonPractice, defineRule, legLabel, mark, ownerLabel } from '../../../src/doors/rule.js';
import { leavesOut, type LeftOut } from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/left-out',
  summary: 'A device leaves out what the others of its kind state',
  severity: 'warning',
  confidence: 'likely',
  sources: [commonPractice('boxes of one kind are set up alike')],
  needs: ['kindMembers'],
  brief: 'leaves out what its like state',
  *check({ plan, model }) {
    const complete = createCompletion(model);
    for (const found of leavesOut(plan)) {
      const { device, kind, all, facts, taken } = found;
      const completion = complete(found);
      yield {
        subject: `${device.name} of kind ${kind.name}${plan.rigs.length > 1 ? ` of ${device.rig.name}` : ''}`,
        parties: [device.name, ...new Set(facts.map(labelOf))],
        // A receiver that takes a leg without a destination proves that one is missing.
        ...(taken ? { severity: 'error', confidence: 'certain' } : {}),
        cure: () => {
          if (completion === undefined) return peopleDecide('which numbers the device has, or that it has none');
          const edits = createEditList();
          writeCompletion(completion, device, edits);
          return likely(edits);
        },
        facts: {
          device: device.name,
          kind: kind.name,
          all,
          missing: facts.map((fact) => ({ what: fact.what, of: labelOf(fact) })),
          taken,
          renamed: completion?.renamed.map(({ name, meant }) => ({ name, meant })) ?? [],
          values: completion?.filled.map(({ fact, value }) => ({ what: fact.what, of: labelOf(fact), value })) ?? [],
        },
        at: mark(device, device.name, 'name'),
        touch: { kind: 'device', name: device.name },
      };
    }
  },
  words,
});

function labelOf(fact: LeftOut): string {
  return 'leg' in fact ? legLabel(fact.leg) : ownerLabel(fact.interface);
}
