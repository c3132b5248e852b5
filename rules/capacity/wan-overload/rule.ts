import {
  burdenWords,
  clause,
  commonPractice,
  defineRule,
  excessBps,
  formatRate,
  fullLinks,
  linkLabel,
  loopWords,
  mark,
  shareWords,
  strayWords,
  useDirection,
  useLabel,
  useSubject,
  type FullLink,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'capacity/wan-overload',
  summary: 'A circuit carries more than was bought',
  severity: 'error',
  sources: [
    clause('RFC 4541', '2.1.2'),
    commonPractice('a provider drops what exceeds the bought rate, and bursts above it'),
  ],
  needs: ['formats', 'switchPorts', 'circuits'],
  thresholds: { percent: { default: 90, what: 'share of a circuit that streams may fill, in percent' } },
  *check({ plan, model, threshold }) {
    const percent = threshold('percent');
    for (const full of fullLinks(plan, model, percent, true)) {
      const { use } = full;
      const [first, ...rest] = use.links;
      const over = use.loadBps > use.rateBps;
      yield {
        subject: useSubject(use),
        parties: use.links.map(linkLabel),
        severity: over && !use.looped ? 'error' : 'warning',
        what: `${useLabel(use)}, ${formatRate(use.rateBps)} as bought, carries ${formatRate(use.loadBps)} from ${useDirection(use)}${loopWords(use)}, ${shareWords(use.loadBps, use.rateBps)}: ${burdenWords(full.burden)}`,
        at: mark(first, `link ${linkLabel(first)}: ${formatRate(use.rateBps / use.links.length)}`, 'rate'),
        others: rest.map((link) => mark(link, `link ${linkLabel(link)}`, 'rate')),
        onAir: over
          ? 'the provider drops what exceeds the bought rate, from any stream and without a message: what goes home breaks up as soon as all of it is sent'
          : 'nothing while every sender is even; bursts above the bought rate are cut by the provider, and then any stream on it breaks up',
        fix: fixWords(full, percent),
        touch: { kind: 'link', name: linkLabel(first) },
      };
    }
  },
});

/** Nobody moves a receiver across a circuit: what does not belong on it goes first, else it is a matter of money or of bits. */
function fixWords(full: FullLink, percent: number): string {
  const { use } = full;
  const more = `buy ${formatRate((use.loadBps * 100) / percent)} or more`;
  const stray = strayWords(full, percent);
  return stray === undefined
    ? `${more}, or send ${formatRate(excessBps(full, percent))} less: compress more, or send fewer streams`
    : `${stray}; or ${more}`;
}
