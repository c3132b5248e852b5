import {
  append,
  byLabel,
  clause,
  defineRule,
  formatTime,
  groupBy,
  LEAST_BUFFER_PACKETS,
  mark,
  noted,
  packetTimeNs,
  type Budget,
  type MediaTiming,
  type NonEmpty,
} from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, boolean>({
  id: 'delay/link-offset-too-short',
  summary: 'The link offset is shorter than sound takes to arrive, or holds too few packets',
  severity: 'error',
  sources: [clause('AES67-2018', '7.5')],
  needs: ['linkOffset'],
  *check({ model, plan }) {
    if (!plan.mediaTimings.some((one) => one.linkOffsetNs !== undefined)) return;
    const { delays } = model;
    const short = new Map<MediaTiming, [Short, ...Short[]]>();
    for (const budget of delays.budgets) {
      const { receiver, sender } = budget;
      // An input with a buffer of its own is not set to the link offset.
      if (sender.essence !== 'audio' || receiver.bufferNs !== undefined) continue;
      const timing = delays.linkOffsetOf(receiver.rig);
      const found = timing?.linkOffsetNs === undefined ? undefined : judge(budget, timing.linkOffsetNs);
      if (timing !== undefined && found !== undefined) append(short, timing, found);
    }
    for (const [timing, all] of short) {
      for (const [late, list] of groupBy(all, (one) => one.late)) {
        const inputs = byLabel(list, ({ budget }) => budget.receiver.label);
        const streams = byLabel([...new Set(inputs.map(({ budget }) => budget.sender))], ({ label }) => label);
        const receivers = inputs.map(({ budget }) => budget.receiver);
        const offsetNs = timing.linkOffsetNs ?? 0;
        yield {
          subject: `${late ? 'arrival' : 'buffer'} in rig ${timing.rig.name}`,
          parties: [...receivers, ...streams].map(({ label }) => label),
          severity: late ? 'error' : 'warning',
          facts: { late, offsetNs, receivers, worst: worstOf(inputs), enoughNs: enoughFor(inputs) },
          at: mark(timing, `link offset ${formatTime(offsetNs)}`, 'linkOffset'),
          others: streams.map((sender) => noted(mark(sender, sender.label), late)),
          touch: { kind: 'plan', name: 'timing' },
        };
      }
    }
  },
  words,
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

function worstOf(inputs: NonEmpty<Short>): Facts['worst'] {
  const { budget, needNs, packetNs } = inputs.reduce((a, b) => (b.needNs > a.needNs ? b : a));
  return { sender: budget.sender, needNs, packetNs };
}

/** The way and as many packets as are to be held, up to the next tenth of a millisecond, in which devices are set. */
function enoughFor(inputs: NonEmpty<Short>): number {
  const each = inputs.map(({ needNs, packetNs, late }) =>
    late ? needNs + (LEAST_BUFFER_PACKETS - 1) * packetNs : needNs,
  );
  return Math.ceil(Math.max(...each) / 1e5) * 1e5;
}
