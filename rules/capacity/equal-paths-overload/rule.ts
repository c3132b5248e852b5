import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  linkLabel,
  mapAll,
  mark,
  type Rig,
} from '../../../src/doors/rule.js';
import { openCauses, type RateNote, useMarks } from '../../../src/doors/capacity.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, RateNote>({
  id: 'capacity/equal-paths-overload',
  summary: 'A link is too full if all streams take the same one of several equal paths',
  severity: 'warning',
  confidence: 'assumed',
  people: 'which streams take which way',
  sources: [clause('RFC 7761', '4.1.5'), commonPractice('media fills a link to no more than 80 or 90 %')],
  needs: ['formats', 'receivers', 'switchPorts', 'links', 'linkRates', 'multicastRouting'],
  brief: 'too full if all streams take one way',
  harm: 'spoils',
  *check({ plan, model, thresholdElsewhere }) {
    // The two rules share links between them, and so the share that may be filled.
    const percentOf = (rig: Rig): number => thresholdElsewhere('capacity/link-overload.percent', rig) ?? USUAL_PERCENT;
    const causes = openCauses(plan, model, model.routedReceptions, percentOf);
    for (const { routers, links, streams, spread } of byLabel(causes, (one) => one.routers[0].name)) {
      const [{ use, worstBps, bestBps }] = links;
      const { at, others } = useMarks(use);
      yield {
        subject: `equal paths of ${routers[0].name}`,
        parties: [...routers.map(({ name }) => name), ...links.flatMap((one) => one.use.links.map(linkLabel))],
        facts: {
          links: mapAll(links, (one) => one.use.links[0]),
          rateBps: use.rateBps,
          worstBps,
          bestBps,
          enough: links.every((one) => one.bestBps * 100 <= one.use.rateBps * percentOf(one.use.links[0].rig)),
          routers,
          streams,
          spread,
        },
        at,
        others: [
          ...others,
          ...links.slice(1).flatMap((one) => {
            const marks = useMarks(one.use);
            return [marks.at, ...marks.others];
          }),
          ...routers.map((box) => mark(box, box.name, 'name')),
        ],
        touch: { kind: 'link', name: linkLabel(use.links[0]) },
      };
    }
  },
  words,
});

const USUAL_PERCENT = 90;
