import { commonPractice, defineRule, linkEnds, linkLabel, mark } from '../../../src/lint/rule.js';

export default defineRule({
  id: 'links/self-link',
  summary: 'A link leads from a switch to itself',
  severity: 'warning',
  sources: [commonPractice('a switch is not linked to itself')],
  needs: ['links'],
  *check({ plan }) {
    for (const link of plan.links) {
      const [a, b] = link.ends;
      if (a.switch === undefined || a.switch !== b.switch) continue;
      const label = linkLabel(link);
      const onePort = a.text === b.text;
      yield {
        subject: linkEnds(link),
        parties: [a.switch.name],
        severity: onePort ? 'error' : 'warning',
        what: onePort
          ? `link ${label} has the same port, ${a.text}, at both ends`
          : `link ${label} leads from switch ${a.switch.name} to itself`,
        at: mark(link, `link ${label}`, 'ends'),
        onAir: onePort
          ? 'the link does not exist: what it was meant to join is not joined'
          : 'a loop: without a protocol that blocks it, one broadcast circles until the switch and everything on it stand still; with one, the link does nothing',
        fix: 'name the far end the link really has, or take the link out',
        touch: { kind: 'link', name: label },
      };
    }
  },
});
