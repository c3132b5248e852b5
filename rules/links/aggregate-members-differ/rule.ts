import { byLabel, clauseFromMemory, defineRule, linkLabel, mark, type Rig } from '../../../src/doors/rule.js';
import { createEditList, likely, carryOnLinks, peopleDecide } from '../../../src/doors/cures.js';
import { unlikeMembers } from '../../../src/doors/links.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'links/aggregate-members-differ',
  summary: 'Links of one aggregate have unlike rates or carry different VLANs',
  severity: 'warning',
  sources: [clauseFromMemory('IEEE 802.1AX-2020', '6.3')],
  needs: ['links'],
  brief: 'members differ',
  harm: 'exposes',
  *check({ plan, model }) {
    const unlike = unlikeMembers(plan, (link) => model.domains.overLink(link));
    for (const { links, by } of byLabel(unlike, (one) => `${subjectOf(one.links)} ${one.by}`)) {
      const [first, ...rest] = links;
      const key = by === 'rate' ? 'rate' : 'vlans';
      yield {
        subject: `${by} of ${subjectOf(links)}`,
        parties: links.map(linkLabel),
        cure: () => {
          if (by === 'rate') return peopleDecide('which members are swapped for others');
          const edits = createEditList();
          const vlans = new Set(
            links.flatMap((link) => [
              ...(link.vlans ?? []),
              ...link.ends.flatMap(({ port }) => (port?.trunk === 'all' ? [] : (port?.trunk ?? []))),
            ]),
          );
          const done = carryOnLinks(edits, links, [...vlans]);
          return done ? likely(edits, 'what the members carry') : peopleDecide('what the members carry');
        },
        facts: { links, by },
        at: mark(first, `link ${linkLabel(first)}`, key),
        others: rest.map((link) => mark(link, `link ${linkLabel(link)}`, key)),
        touch: { kind: 'link', name: linkLabel(first) },
      };
    }
  },
  words,
});

function subjectOf([first]: Facts['links']): string {
  return `aggregate ${first.aggregate ?? ''} of ${rigName(first.rig)}${first.ends
    .map((end) => end.switch?.name ?? end.text)
    .sort()
    .join(' and ')}`;
}

function rigName({ name }: Rig): string {
  return name === '' ? '' : `${name}, `;
}
