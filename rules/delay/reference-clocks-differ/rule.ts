import {
  byLabel,
  clause,
  defineRule,
  groupBy,
  legLabel,
  listNames,
  mark,
  parseReferenceClock,
  touchOf,
  type Leg,
  type Receiver,
  type Sender,
} from '../../../src/lint/rule.js';

const LEGS = [clause('ST 2110-10', '8.2'), clause('RFC 7273', '4')];
const DOMAIN = [clause('RFC 7273', '4.8'), clause('ST 2110-10', '8.2')];

export default defineRule({
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
      const [first, ...rest] = legs;
      const other = rest.find((leg) => keyOf(leg) !== (first === undefined ? '' : keyOf(first)));
      if (first === undefined || other === undefined) continue;
      split.add(sender);
      yield {
        subject: `legs of ${sender.label}`,
        parties: [sender.label],
        what: `the legs of ${sender.label} state different reference clocks: ${legs.map((leg) => `${legLabel(leg)} ${leg.referenceClock ?? ''}`).join(', ')}`,
        at: mark(other, `${legLabel(other)}: ${other.referenceClock ?? ''}`, 'referenceClock'),
        others: legs
          .filter((leg) => leg !== other)
          .map((leg) => mark(leg, `${legLabel(leg)}: ${leg.referenceClock ?? ''}`, 'referenceClock')),
        onAir: 'receivers can not join the two legs: they refuse one, or jump whenever one takes over from the other',
        sources: LEGS,
        fix: 'let both legs state the clock their sender follows',
        touch: touchOf(sender),
      };
    }
    yield* domains(plan.receivers, split);
  },
});

function* domains(
  receivers: readonly Receiver[],
  split: ReadonlySet<Sender>,
): Generator<ReturnType<typeof domainFinding>> {
  const wrong = receivers.filter((receiver) => {
    const { takes } = receiver;
    if (takes === undefined || split.has(takes)) return false;
    const sent = domainOf(takes);
    const followed = receiver.device.ptp?.mode === 'none' ? undefined : receiver.device.ptp?.domain;
    return sent !== undefined && followed !== undefined && sent !== followed;
  });
  for (const [sender, list] of groupBy(wrong, ({ takes }) => takes))
    yield domainFinding(
      sender,
      byLabel(list, ({ label }) => label),
    );
}

function domainFinding(sender: Sender, receivers: readonly Receiver[]) {
  const domain = domainOf(sender) ?? 0;
  const leg = sender.legs.find((one) => one.referenceClock !== undefined);
  const names = receivers.map(({ label }) => label);
  const followed = [...new Set(receivers.map(({ device }) => device.ptp?.domain ?? 0))]
    .sort((a, b) => a - b)
    .map(String);
  return {
    subject: `domain ${domain} of ${sender.label}`,
    parties: [sender.label, ...names],
    what: `${sender.label} goes by PTP domain ${domain}, and ${listNames(names)} by ${followed.length === 1 ? 'domain' : 'domains'} ${listNames(followed)}`,
    at: mark(leg ?? sender, `${sender.label}: domain ${domain}`, leg === undefined ? undefined : 'referenceClock'),
    others: receivers.map(({ device, label }) =>
      mark(
        device.ptp ?? device,
        `${label}: domain ${device.ptp?.domain ?? ''}`,
        device.ptp === undefined ? undefined : 'domain',
      ),
    ),
    onAir:
      'receivers refuse the stream, or play it by another clock: sound clicks, pictures repeat or drop frames, as the clocks drift apart',
    sources: DOMAIN,
    fix: `let sender and ${names.length === 1 ? 'receiver' : 'receivers'} follow one PTP domain, or, where only the description is old, state the domain the sender follows`,
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
