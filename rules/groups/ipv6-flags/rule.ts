import { regroup } from '../../../src/doors/cures.js';
import { clause, defineRule } from '../../../src/doors/rule.js';
import { destinationsOf, formFaults6, groupSubject, legSets, setDraft } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

/** Faults on which routers drop the group, rather than merely being allowed to. */
const DROPPED: ReadonlySet<string> = new Set([
  'rendezvous-without-prefix',
  'rendezvous-interface',
  'rendezvous-address',
]);

export default defineRule<Facts, string>({
  id: 'groups/ipv6-flags',
  summary: 'The flags of an IPv6 group, or the fields they bring, contradict each other',
  severity: 'warning',
  sources: [clause('RFC 4291', '2.7'), clause('RFC 3306', '4'), clause('RFC 3956', '4'), clause('RFC 7371', '4.1')],
  needs: ['groups'],
  brief: 'group flags contradict each other',
  *check({ model }) {
    for (const set of legSets(model.misplaced.get('form-fault') ?? [], groupSubject)) {
      const { first, legs } = set;
      if (typeof first.group !== 'bigint') continue;
      const faults = formFaults6(first.group);
      const dropped = faults.some(({ kind }) => DROPPED.has(kind));
      yield {
        ...setDraft(set),
        severity: dropped ? 'error' : 'warning',
        cure: () => regroup(model, legs),
        facts: {
          legs,
          faults: faults.map(({ kind, title, citation }) => ({ kind, title, citation })),
          dropped,
          to: destinationsOf(model, legs),
        },
      };
    }
  },
  words,
});
