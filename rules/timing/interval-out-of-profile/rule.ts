import { clause, clauseFromMemory, defineRule, inRig, mark, type FindingDraft } from '../../../src/doors/rule.js';
import {
  admittedDefault,
  clockFaults,
  clockMark,
  clockTouch,
  domainFaults,
  type ProfileFault,
} from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'timing/interval-out-of-profile',
  summary: 'A PTP interval is one the profile does not admit',
  severity: 'error',
  sources: [
    clause('SMPTE ST 2059-2', '6.7'),
    clause('AES67-2018', 'Annex A'),
    clauseFromMemory('IEEE 1588-2008', 'J.3'),
  ],
  needs: ['clocks', 'ptpProfiles'],
  brief: 'interval outside the profile',
  *check({ plan, model: { timing } }) {
    for (const found of domainFaults(plan)) {
      const { domain, fault } = found;
      const number = domain.number ?? domain.name ?? '';
      const name = `domain ${number}`;
      yield {
        subject: `${fault.key} ${fault.value} of ${name}${inRig(domain.rig)}`,
        parties: [name],
        ...sureness(found),
        facts: { form: 'domain', domain: number, ...limitsOf(found) },
        at: mark(domain, name, fault.key),
        touch: { kind: 'plan', name: 'timing' },
      };
    }
    for (const found of clockFaults(timing.facts)) {
      const { clocks, fault } = found;
      const [first, ...rest] = clocks;
      const names = clocks.map(({ name }) => name);
      yield {
        subject: `${fault.key} ${fault.value} in domain ${first.domain}${inRig(first.rig)}`,
        parties: names,
        ...sureness(found),
        facts: { form: 'clocks', clocks: names, ...limitsOf(found) },
        at: clockMark(first, fault.key),
        others: rest.map((other) => clockMark(other, fault.key)),
        touch: clockTouch(first),
      };
    }
  },
  words,
});

/** A range that nobody looked up is a sign only. */
function sureness({ fault }: ProfileFault): Pick<FindingDraft, 'severity' | 'confidence'> {
  return fault.known === 'read'
    ? { severity: 'error', confidence: 'certain' }
    : { severity: 'warning', confidence: 'likely' };
}

function limitsOf(found: ProfileFault) {
  const { key, value, least, most } = found.fault;
  return { key, value, least, most, usual: admittedDefault(found), profile: found.profile.title };
}
