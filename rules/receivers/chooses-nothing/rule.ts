import { byLabel, commonPractice, defineRule, eachInput, mark } from '../../../src/doors/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'receivers/chooses-nothing',
  summary: 'An input switches between streams, and no stream of the plan is among them',
  severity: 'error',
  people: 'which streams the input is to choose from',
  sources: [commonPractice('a set by name is there to hold something')],
  needs: ['receivers'],
  brief: 'chooses among no streams',
  *check({ plan }) {
    // A name in it that leads nowhere is the cause: plan/unknown-reference.
    const lost = new Set(plan.unresolved.map(({ by }) => (by.kind === 'receiver' ? by.entity.selection : undefined)));
    const empty = eachInput(plan.receivers).filter(
      ({ selection, takes }) => selection !== undefined && takes === undefined && !lost.has(selection),
    );
    for (const receiver of byLabel(empty, ({ label }) => label)) {
      yield {
        subject: receiver.label,
        parties: [receiver.label],
        facts: { receiver },
        at: mark(receiver, receiver.label, 'takes'),
        touch: { kind: 'device', name: receiver.device.name },
      };
    }
  },
  words,
});
