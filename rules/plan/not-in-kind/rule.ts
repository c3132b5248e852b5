import { createEditList, likely } from '../../../src/doors/cures.js';
import { commonPractice, defineRule, mark } from '../../../src/doors/rule.js';
import { entriesNotInKind } from '../../../src/doors/plan.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'plan/not-in-kind',
  summary: 'A device writes an entry that its kind has not, nearly named like one it leaves out',
  severity: 'warning',
  confidence: 'likely',
  sources: [commonPractice('a device says of its kind only what is its own')],
  needs: ['kindMembers'],
  brief: 'entry its kind has not',
  *check({ plan }) {
    for (const { device, kind, list, entry, meant, taken } of entriesNotInKind(plan)) {
      const label = `${device.name}${list === 'interfaces' ? ' ' : '/'}${entry.name}`;
      yield {
        subject: `${label}${plan.rigs.length > 1 ? ` of ${device.rig.name}` : ''}`,
        parties: [device.name, label],
        // A receiver that takes what is left out proves that it should have the numbers.
        ...(taken ? { severity: 'error', confidence: 'certain' } : {}),
        cure: () => {
          const edits = createEditList();
          const [right, ...others] = meant;
          if (others.length === 0) edits.set(entry, 'name', right);
          return likely(edits, 'which entry of the kind is meant');
        },
        facts: { device: device.name, kind: kind.name, list, entry: entry.name, meant },
        at: mark(entry, label, 'name'),
        others: [mark(kind, `kind ${kind.name}`, 'name')],
        touch: { kind: 'device', name: device.name },
      };
    }
  },
  words,
});
