import { regroup } from '../../../src/doors/cures.js';
import { byLabel, clause, defineRule, mark, receiverLegLabel } from '../../../src/doors/rule.js';
import {
  destinationsOf,
  groupSubject,
  legSets,
  linkLocalAbroad,
  scopeFaults6,
  setDraft,
} from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/ipv6-scope',
  summary: 'The scope of an IPv6 group is too small for its receivers, or is none',
  severity: 'error',
  sources: [clause('RFC 4291', '2.7'), clause('RFC 7346', '2')],
  needs: ['groups'],
  brief: 'group scope too small',
  *check({ model }) {
    for (const set of legSets(model.misplaced.get('scope-fault') ?? [], groupSubject)) {
      const { first, legs } = set;
      if (typeof first.group !== 'bigint') continue;
      const faults = scopeFaults6(first.group).map(({ title }) => title);
      yield {
        ...setDraft(set),
        cure: () => regroup(model, legs),
        facts: { form: 'no-scope', legs, faults, to: destinationsOf(model, legs) },
      };
    }
    // A link-local group is fine until somebody behind a router wants it.
    const abroad = linkLocalAbroad(model.plan, model.domains);
    const permanent = new Set(model.misplaced.get('link-control') ?? []);
    const judged = [...abroad.keys()].filter((leg) => !permanent.has(leg));
    for (const set of legSets(judged, groupSubject)) {
      const { legs, names } = set;
      const receivers = byLabel(
        legs.flatMap((leg) => abroad.get(leg) ?? []),
        receiverLegLabel,
      );
      const draft = setDraft(set);
      yield {
        ...draft,
        parties: [...names, ...receivers.map(receiverLegLabel)],
        cure: () => regroup(model, legs),
        facts: { form: 'link-local', legs, receivers, to: destinationsOf(model, legs) },
        others: [...(draft.others ?? []), ...receivers.map((one) => mark(one, receiverLegLabel(one), 'takes'))],
      };
    }
  },
  words,
});
