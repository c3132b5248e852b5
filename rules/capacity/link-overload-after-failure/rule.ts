import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  isNonEmpty,
  linkLabel,
  mark,
  noted,
  type Rig,
} from '../../../src/doors/rule.js';
import { chosenFacts, openLinks, rerouted, sureBps, useMarks, useSubject } from '../../../src/doors/capacity.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'capacity/link-overload-after-failure',
  summary: 'The loss of one link overloads another',
  severity: 'warning',
  people: 'what goes off the links, or which rate they get',
  sources: [
    clauseFromMemory('IEEE 802.1AX-2020', '6.1'),
    clauseFromMemory('IEEE 802.1Q-2022', '13'),
    commonPractice('what is left after one failure still carries everything'),
  ],
  needs: ['formats', 'switchPorts', 'links', 'linkRates'],
  brief: 'overloads another link when lost',
  harm: 'later',
  thresholds: { percent: { default: 100, what: 'share of a link that streams may fill after a failure, in percent' } },
  *check({ plan, model, threshold, thresholdElsewhere }) {
    const percentOf = (rig: Rig): number => threshold('percent', rig);
    if (model.headroom.linksHoldAll(percentOf)) return;
    const found = rerouted(
      plan,
      model.network,
      model.load,
      ({ leg }) => model.rates.onWire(leg),
      model.unrated,
      percentOf,
    );
    // What is nearly full before the failure is the business of capacity/link-overload.
    const fresh = found.filter(({ use }) => use.loadBps <= use.rateBps * NEARLY_FULL);
    // A link that equal paths alone make too full is told of by capacity/equal-paths-overload, with what is left of its loss.
    const usual = (rig: Rig): number => thresholdElsewhere('capacity/link-overload.percent', rig) ?? USUAL_PERCENT;
    const open = new Set(openLinks(plan, model, model.routedReceptions, usual).map(({ use }) => use.links[0]));
    for (const { use, after: all } of byLabel(fresh, (one) => useSubject(one.use))) {
      const losses = all.filter(({ lost }) => !open.has(lost));
      const [worst] = losses;
      if (worst === undefined) continue;
      const { links, rateBps, loadBps } = use;
      const lost = losses.map((one) => one.lost);
      const others = links.includes(worst.lost) ? [] : lost;
      const atLeast = links.some(model.unrated.onLink);
      const after = {
        links,
        rateBps,
        loadBps,
        atLeast,
        afterBps: worst.loadBps,
        afterAtLeast: worst.atLeast,
        leftBps: worst.rateBps,
      };
      const limitBps = (worst.rateBps * percentOf(links[0].rig)) / 100;
      const { chosen } = worst;
      const carried = {
        ...after,
        chosen: chosen === undefined ? undefined : chosenFacts(chosen, worst.loadBps, limitBps),
      };
      const marks = useMarks(use);
      yield {
        subject: useSubject(use),
        parties: [...new Set([...links, ...lost])].map(linkLabel),
        confidence: worst.assumed || sureBps(worst.loadBps, chosen) <= limitBps ? 'assumed' : 'certain',
        facts: isNonEmpty(others) ? { form: 'another', ...carried, lost: others } : { form: 'member', ...carried },
        at: marks.at,
        others: [...marks.others, ...others.map((link) => noted(mark(link, `link ${linkLabel(link)}`), 'lost'))],
        touch: { kind: 'link', name: linkLabel(links[0]) },
      };
    }
  },
  words,
});

const NEARLY_FULL = 0.9;
const USUAL_PERCENT = 90;
