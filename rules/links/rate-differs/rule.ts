import { createEditList, likely, writtenAt } from '../../../src/doors/cures.js';
import { commonPractice, defineRule, linkLabel, mark, noted, portLabel } from '../../../src/doors/rule.js';
import { linkEnds, rateDifference } from '../../../src/doors/links.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'links/rate-differs',
  summary: 'A link and its two ports have rates that do not fit',
  severity: 'warning',
  sources: [commonPractice('both ends of a cable run at one rate')],
  needs: ['links'],
  brief: 'rates do not fit',
  *check({ plan }) {
    for (const link of plan.links) {
      const found = rateDifference(link);
      if (found === undefined) continue;
      const { ends, rated, odd, slowest, unlike, plannedBps, outvoted } = found;
      const name = linkLabel(link);
      const ports = [odd, ...rated.filter((one) => one !== odd)].map(({ port, rateBps }) =>
        noted(mark(port, portLabel(port), 'rate'), { rateBps }),
      );
      const planned =
        plannedBps === undefined ? [] : [noted(mark(link, `link ${name}`, 'rate'), { rateBps: plannedBps })];
      const [at, ...others] = outvoted ? [...planned, ...ports] : [...ports, ...planned];
      if (at === undefined) continue;
      yield {
        subject: linkEnds(link),
        parties: ends.map(portLabel),
        cure: () => {
          const edits = createEditList();
          const rate = writtenAt(slowest.port, 'rate');
          if (!unlike && rate !== undefined) edits.set(link, 'rate', rate);
          return likely(edits, 'which rate ports and optics are to have');
        },
        facts: {
          form: unlike ? 'ports' : 'link',
          link,
          plannedBps,
          ports: rated,
          slowestBps: slowest.rateBps,
        },
        at,
        others,
        touch: { kind: 'link', name },
      };
    }
  },
  words,
});
