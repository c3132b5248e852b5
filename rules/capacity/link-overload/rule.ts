import {
  burdenWords,
  clause,
  commonPractice,
  defineRule,
  formatRate,
  fullLinks,
  linkLabel,
  loopWords,
  mark,
  reliefWords,
  roomWords,
  shareWords,
  useDirection,
  useLabel,
  useSubject,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'capacity/link-overload',
  summary: 'A link carries more than it has room for',
  severity: 'error',
  sources: [
    clause('RFC 4541', '2.1.2'),
    clause('ST 2110-21', '6.3'),
    commonPractice('media fills a link to no more than 80 or 90 %'),
  ],
  needs: ['formats', 'switchPorts', 'links', 'linkRates'],
  thresholds: { percent: { default: 90, what: 'share of a link that streams may fill, in percent' } },
  *check({ plan, model, threshold }) {
    const percent = threshold('percent');
    for (const full of fullLinks(plan, model, percent, false)) {
      const { use } = full;
      const [first, ...rest] = use.links;
      const over = use.loadBps > use.rateBps;
      yield {
        subject: useSubject(use),
        parties: use.links.map(linkLabel),
        severity: over && !use.looped ? 'error' : 'warning',
        what: `${useLabel(use)} carries ${formatRate(use.loadBps)} from ${useDirection(use)}${loopWords(use)}, ${shareWords(use.loadBps, use.rateBps)} of its ${formatRate(use.rateBps)}: ${burdenWords(full.burden)}`,
        at: mark(first, `link ${linkLabel(first)}: ${formatRate(use.rateBps / use.links.length)}`, 'rate'),
        others: rest.map((link) => mark(link, `link ${linkLabel(link)}`, 'rate')),
        onAir: over
          ? `from the moment all of it is sent the link drops packets of every stream alike: pictures break up and sound clicks everywhere behind it`
          : `nothing while every sender is even; senders that send in bursts, or one stream more, and it drops packets of every stream on it`,
        fix: `${reliefWords(full, percent)}; or ${roomWords(use, percent)}`,
        touch: { kind: 'link', name: linkLabel(first) },
      };
    }
  },
});
