import {
  clause,
  clauseFromMemory,
  defineRule,
  inRig,
  mark,
  type FindingDraft,
  type Model,
} from '../../../src/doors/rule.js';
import { createEditList, likely, setClocks } from '../../../src/doors/cures.js';
import {
  admittedDefault,
  clockFaults,
  clockMark,
  clockTouch,
  domainFaults,
  profileMeantByClocks,
  profileMeantByDomain,
  type ProfileFault,
  type DomainFault,
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
  *check({ plan, model }) {
    const { timing } = model;
    for (const found of domainFaults(plan)) {
      const { domain, fault } = found;
      const number = domain.number ?? domain.name ?? '';
      const name = `domain ${number}`;
      const instead = profileMeantByDomain(found, timing.facts);
      const stated = statedBy(timing.facts, found);
      yield {
        subject: `${fault.key} ${fault.value} of ${name}${inRig(domain.rig)}`,
        parties: [name],
        ...sureness(found),
        cure: () => {
          const edits = createEditList();
          if (instead !== undefined) edits.set(domain, 'profile', instead);
          else edits.set(domain, fault.key, stated ?? admittedDefault(found));
          return likely(edits);
        },
        facts: { form: 'domain', domain: number, stated, instead, ...limitsOf(found) },
        at: mark(domain, name, fault.key),
        touch: { kind: 'plan', name: 'timing' },
      };
    }
    for (const found of clockFaults(timing.facts)) {
      const { clocks, fault } = found;
      const [first, ...rest] = clocks;
      const names = clocks.map(({ name }) => name);
      const instead = profileMeantByClocks(found);
      yield {
        subject: `${fault.key} ${fault.value} in domain ${first.domain}${inRig(first.rig)}`,
        parties: names,
        ...sureness(found),
        cure: () => {
          const edits = createEditList();
          const change = instead === undefined ? { [fault.key]: admittedDefault(found) } : { profile: instead };
          setClocks(model, edits, clocks, change);
          return likely(edits);
        },
        facts: { form: 'clocks', clocks: names, instead, ...limitsOf(found) },
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

/** What most clocks of the domain state themselves, if the profile has it. */
function statedBy(clocks: Model['timing']['facts'], { domain, fault }: DomainFault): number | undefined {
  const { key, least, most } = fault;
  const counts = new Map<number, number>();
  for (const clock of clocks) {
    const value = clock.settings[key];
    if (clock.domain === domain.number && value !== undefined && value >= least && value <= most)
      counts.set(value, (counts.get(value) ?? 0) + 1);
  }
  const [best] = [...counts].sort(([, a], [, b]) => b - a);
  return best?.[0];
}
