import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatRate,
  linkLabel,
  listNames,
  mark,
  rerouted,
  shareWords,
  useLabel,
  useSubject,
  type Link,
  type LinkUse,
  type Rerouted,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'capacity/link-overload-after-failure',
  summary: 'The loss of one link overloads another',
  severity: 'warning',
  sources: [
    clause('IEEE 802.1AX-2020', '6.1'),
    clause('IEEE 802.1Q-2022', '13'),
    commonPractice('what is left after one failure still carries everything'),
  ],
  needs: ['formats', 'switchPorts', 'links', 'linkRates'],
  thresholds: { percent: { default: 100, what: 'share of a link that streams may fill after a failure, in percent' } },
  *check({ plan, model, threshold }) {
    if (model.headroom.linksHoldAll(threshold('percent'))) return;
    const found = rerouted(plan, model.network, model.load, ({ leg }) => model.rates.onWire(leg), threshold('percent'));
    // What is nearly full before the failure is the business of capacity/link-overload.
    const fresh = found.filter(({ use }) => use.loadBps <= use.rateBps * NEARLY_FULL);
    for (const { use, after } of byLabel(fresh, (one) => useSubject(one.use))) {
      const [first, ...rest] = use.links;
      const [worst] = after;
      if (worst === undefined) continue;
      const own = use.links.includes(worst.lost);
      const lost = own ? [] : [...new Set(after.map((one) => one.lost))];
      yield {
        subject: useSubject(use),
        parties: [...new Set([...use.links, ...after.map((one) => one.lost)])].map(linkLabel),
        what: what({ use, after }),
        at: mark(first, `link ${linkLabel(first)}: ${formatRate(use.rateBps / use.links.length)}`, 'rate'),
        others: [
          ...rest.map((link) => mark(link, `link ${linkLabel(link)}`, 'rate')),
          ...lost.map((link) => mark(link, `link ${linkLabel(link)}: when this one is lost`)),
        ],
        onAir: `${failureWords(use, lost)} packets of every stream on ${own && use.links.length > 2 ? 'them' : 'it'}: the failure that was planned for takes the pictures with it all the same`,
        fix: `${own ? 'add a member or use faster ones, so that those left carry' : 'give it room for'} ${formatRate(worst.loadBps)}, or take ${formatRate(worst.loadBps - worst.rateBps)} off it`,
        touch: { kind: 'link', name: linkLabel(first) },
      };
    }
  },
});

const NEARLY_FULL = 0.9;

/** Who fails and who then drops; nothing else lost means a member of its own. */
function failureWords({ links }: LinkUse, lost: readonly Link[]): string {
  if (lost.length === 0) return `when one member fails, ${links.length === 2 ? 'the other drops' : 'the others drop'}`;
  return `when ${listNames(
    lost.map((link) => `link ${linkLabel(link)}`),
    3,
  )} fails, this one drops`;
}

function what({ use, after }: Rerouted): string {
  const [worst, ...others] = after;
  if (worst === undefined) return '';
  const share = shareWords(worst.loadBps, worst.rateBps);
  if (use.links.includes(worst.lost)) {
    return `${useLabel(use)} carries ${formatRate(use.loadBps)} over ${use.links.length} members; with one lost, ${use.links.length === 2 ? 'the other' : `the other ${use.links.length - 1}`} must carry it, ${share} of ${formatRate(worst.rateBps)}`;
  }
  const more =
    others.length === 0
      ? ''
      : `, and is too full as well after the loss of ${listNames(
          others.map(({ lost }) => linkLabel(lost)),
          4,
        )}`;
  return `${useLabel(use)} carries ${formatRate(use.loadBps)}, but up to ${formatRate(worst.loadBps)} after the loss of link ${linkLabel(worst.lost)}, ${share} of its ${formatRate(worst.rateBps)}${more}`;
}
