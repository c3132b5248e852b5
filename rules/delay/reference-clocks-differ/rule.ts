import {
  ascending,
  byLabel,
  clause,
  defineRule,
  groupBy,
  legLabel,
  mark,
  noted,
  parseReferenceClock,
  touchOf,
  type FindingDraft,
  type Leg,
  type NonEmpty,
  type Receiver,
  type Sender,
} from '../../../src/lint/rule.js';
import { words, type Facts, type Note } from './words.js';

const LEGS = [clause('ST 2110-10', '8.2'), clause('RFC 7273', '4')];
const DOMAIN = [clause('RFC 7273', '4.8'), clause('ST 2110-10', '8.2')];

export default defineRule<Facts, Note>({
  id: 'delay/reference-clocks-differ',
  summary: 'Legs of one stream, or a stream and its receivers, go by different clocks',
  severity: 'error',
  sources: [clause('ST 2110-10', '8.2'), clause('RFC 7273', '4'), clause('RFC 7273', '4.8')],
  needs: ['referenceClocks'],
  *check({ plan }) {
    const stating = plan.senders.filter(({ legs }) => legs.some((leg) => leg.referenceClock !== undefined));
    const split = new Set<Sender>();
    for (const sender of byLabel(stating, ({ label }) => label)) {
      const legs = sender.legs.filter((leg) => leg.referenceClock !== undefined);
      const other = legs.find((leg) => legs[0] !== undefined && keyOf(leg) !== keyOf(legs[0]));
      if (other === undefined) continue;
      split.add(sender);
      yield {
        subject: `legs of ${sender.label}`,
        parties: [sender.label],
        facts: { form: 'legs', sender, legs, clocks: legs.map(({ referenceClock = '' }) => referenceClock) },
        at: clockMark(other),
        others: legs.filter((leg) => leg !== other).map(clockMark),
        sources: LEGS,
        touch: touchOf(sender),
      };
    }
    const wrong = plan.receivers.filter((receiver) => !agrees(receiver, split));
    for (const [sender, list] of groupBy(wrong, ({ takes }) => takes))
      yield domainFinding(
        sender,
        byLabel(list, ({ label }) => label),
      );
  },
  words,
});

function clockMark(leg: Leg) {
  return noted(mark(leg, legLabel(leg), 'referenceClock'), { clock: leg.referenceClock ?? '' });
}

/** A receiver that follows the domain of the stream it takes, or of which that is not known. */
function agrees({ takes, device }: Receiver, split: ReadonlySet<Sender>): boolean {
  if (takes === undefined || split.has(takes)) return true;
  const sent = domainOf(takes);
  const followed = device.ptp?.mode === 'none' ? undefined : device.ptp?.domain;
  return sent === undefined || followed === undefined || sent === followed;
}

function domainFinding(sender: Sender, receivers: NonEmpty<Receiver>): FindingDraft<Facts, Note> {
  const domain = domainOf(sender) ?? 0;
  const leg = sender.legs.find((one) => one.referenceClock !== undefined);
  const followed = [...new Set(receivers.map(({ device }) => device.ptp?.domain ?? 0))].sort(ascending);
  return {
    subject: `domain ${domain} of ${sender.label}`,
    parties: [sender.label, ...receivers.map(({ label }) => label)],
    facts: { form: 'domain', sender, domain, receivers, followed },
    at: noted(mark(leg ?? sender, sender.label, leg === undefined ? undefined : 'referenceClock'), { domain }),
    others: receivers.map(({ device, label }) =>
      noted(mark(device.ptp ?? device, label, device.ptp === undefined ? undefined : 'domain'), {
        domain: device.ptp?.domain,
      }),
    ),
    sources: DOMAIN,
    touch: touchOf(sender),
  };
}

function keyOf({ referenceClock }: Leg): string {
  return parseReferenceClock(referenceClock ?? '').key;
}

/** Of a clock named by its grandmaster: traceable ones agree whatever their domain. */
function domainOf({ legs }: Sender): number | undefined {
  for (const { referenceClock } of legs) {
    if (referenceClock === undefined) continue;
    const clock = parseReferenceClock(referenceClock);
    return clock.kind === 'ptp' ? clock.domain : undefined;
  }
  return undefined;
}
