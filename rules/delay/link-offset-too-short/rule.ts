import {
  byLabel,
  clause,
  defineRule,
  formatTime,
  groupBy,
  LEAST_BUFFER_PACKETS,
  listNames,
  mark,
  packetTimeNs,
  type Budget,
  type MediaTiming,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'delay/link-offset-too-short',
  summary: 'The link offset is shorter than sound takes to arrive, or holds too few packets',
  severity: 'error',
  sources: [clause('AES67-2018', '7.5')],
  needs: ['linkOffset'],
  *check({ model, plan }) {
    if (!plan.mediaTimings.some((one) => one.linkOffsetNs !== undefined)) return;
    const { delays } = model;
    const short = new Map<MediaTiming, Short[]>();
    for (const budget of delays.budgets) {
      const { receiver, sender } = budget;
      // An input with a buffer of its own is not set to the link offset.
      if (sender.essence !== 'audio' || receiver.bufferNs !== undefined) continue;
      const timing = delays.linkOffsetOf(receiver.rig);
      const found = timing?.linkOffsetNs === undefined ? undefined : judge(budget, timing.linkOffsetNs);
      if (timing === undefined || found === undefined) continue;
      const list = short.get(timing);
      if (list === undefined) short.set(timing, [found]);
      else list.push(found);
    }
    for (const [timing, all] of short) {
      for (const [late, list] of groupBy(all, ({ late }) => late)) {
        const inputs = byLabel(list, ({ budget }) => budget.receiver.label);
        const worst = inputs.reduce((a, b) => (b.needNs > a.needNs ? b : a));
        const offset = formatTime(timing.linkOffsetNs ?? 0);
        const streams = byLabel([...new Set(inputs.map(({ budget }) => budget.sender))], ({ label }) => label);
        const names = listNames(inputs.map(({ budget }) => budget.receiver.label));
        // Up to the next tenth of a millisecond, in which devices are set.
        const enough = formatTime(Math.ceil(Math.max(...inputs.map(enoughNs)) / 1e5) * 1e5);
        yield {
          subject: `${late ? 'arrival' : 'buffer'} in rig ${timing.rig.name}`,
          parties: [...inputs.map(({ budget }) => budget.receiver.label), ...streams.map(({ label }) => label)],
          severity: late ? 'error' : 'warning',
          what: late
            ? `the link offset of ${offset} is over before sound arrives at ${names}: ` +
              `${worst.budget.sender.label} needs ${formatTime(worst.needNs)} for its packets and its way`
            : `the link offset of ${offset} holds fewer than ${LEAST_BUFFER_PACKETS} packets of sound at ${names}: ` +
              `${worst.budget.sender.label} sends packets of ${formatTime(worst.packetNs)}`,
          at: mark(timing, `link offset ${offset}`, 'linkOffset'),
          others: streams.map((sender) =>
            mark(sender, late ? `${sender.label}: arrives too late` : `${sender.label}: its packets are too long`),
          ),
          onAir: late
            ? 'these inputs play nothing or crackle all the time: every packet comes after its moment'
            : 'these inputs click whenever packets bunch up, which a busy switch or sender makes them do',
          fix: `set the link offset to ${enough} or more, or give the inputs concerned a buffer of their own (\`delay\`)`,
          touch: { kind: 'plan', name: 'timing' },
        };
      }
    }
  },
});

interface Short {
  readonly budget: Budget;
  /** Packets are later than the offset, not only bunched too close. */
  readonly late: boolean;
  readonly needNs: number;
  readonly packetNs: number;
}

function judge(budget: Budget, offsetNs: number): Short | undefined {
  let needNs = 0;
  for (const { part, ns } of budget.items) if (part === 'packets' || part === 'way') needNs += ns;
  const packetNs = packetTimeNs(budget.sender) ?? 0;
  if (needNs > offsetNs) return { budget, late: true, needNs, packetNs };
  const leastNs = LEAST_BUFFER_PACKETS * packetNs;
  return leastNs > offsetNs ? { budget, late: false, needNs: leastNs, packetNs } : undefined;
}

/** The way, and as many packets as are to be held. */
function enoughNs({ needNs, packetNs, late }: Short): number {
  return late ? needNs + (LEAST_BUFFER_PACKETS - 1) * packetNs : needNs;
}
