import {
  byLabel,
  clause,
  clockMark,
  clockTouch,
  clocksByName,
  commonPractice,
  defineRule,
  groupBy,
  inRig,
  listNames,
  type Clock,
  type WordedDraft,
  type Plan,
  type Timing,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/domain-differs',
  summary: 'A device is in another PTP domain than it should be',
  severity: 'error',
  sources: [clause('IEEE 1588-2008', '7.1'), commonPractice('one PTP domain for all media of a rig')],
  needs: ['clocks'],
  *check({ plan, model: { timing } }) {
    const unwanted = new Set<Clock>();
    const strays = timing.clocks.filter(
      (clock) => !wantedDomains(clock, plan)?.has(clock.domain) && wantedDomains(clock, plan) !== undefined,
    );
    for (const clocks of groupBy(strays, ({ domain, rig }) => `${domain} ${rig.name}`).values()) {
      for (const one of clocks) unwanted.add(one);
      const finding = unplanned(clocksByName(clocks), plan);
      if (finding !== undefined) yield finding;
    }
    yield* acrossDomains(plan, timing, unwanted);
  },
});

/** Numbers the rig states, in its timing and its practice; undefined where it states none. */
function wantedDomains({ rig }: Clock, plan: Plan): ReadonlySet<number> | undefined {
  const numbers = plan.ptpDomains.flatMap((one) => (one.rig === rig ? (one.number ?? []) : []));
  if (numbers.length > 0) return new Set(numbers);
  return rig.practice.ptpDomain === undefined ? undefined : new Set([rig.practice.ptpDomain]);
}

function unplanned(clocks: readonly Clock[], plan: Plan): WordedDraft | undefined {
  const [first] = clocks;
  const wanted = first === undefined ? undefined : wantedDomains(first, plan);
  if (first === undefined || wanted === undefined) return undefined;
  const names = clocks.map(({ name }) => name);
  const numbers = listNames([...wanted].sort((a, b) => a - b).map(String));
  return {
    subject: `domain ${first.domain}${inRig(first.rig)}`,
    parties: names,
    what: `${listNames(names)} ${names.length === 1 ? 'is' : 'are'} in PTP domain ${first.domain}; the plan has ${numbers}`,
    at: clockMark(first, `domain ${first.domain}`, 'domain'),
    others: clocks.slice(1).map((one) => clockMark(one, `domain ${one.domain}`, 'domain')),
    onAir: onAirWords('with the rest of the rig'),
    fix: `set the PTP domain to ${numbers}`,
    touch: clockTouch(first),
  };
}

/** Media that pass from a clock of one domain to a clock of another: one finding for each two domains. */
function* acrossDomains(plan: Plan, timing: Timing, unwanted: ReadonlySet<Clock>): Iterable<WordedDraft> {
  const crossings = new Map<string, { readonly clocks: Set<Clock>; readonly streams: Set<string> }>();
  for (const { device, takes, label } of plan.receivers) {
    if (takes?.device === undefined || device.ptp === undefined || takes.device.ptp === undefined) continue;
    const to = timing.clockOf(device);
    const from = timing.clockOf(takes.device);
    if (to === undefined || from === undefined || to.domain === from.domain || isAssumed(to) || isAssumed(from))
      continue;
    if (unwanted.has(to) || unwanted.has(from)) continue;
    const key = [to.domain, from.domain].sort((a, b) => a - b).join(' ');
    const known = crossings.get(key) ?? { clocks: new Set(), streams: new Set() };
    known.clocks.add(to).add(from);
    known.streams.add(`${takes.label} at ${label}`);
    crossings.set(key, known);
  }
  const sizes = groupBy(timing.clocks, ({ domain }) => String(domain));
  const sizeOf = (domain = ''): number => sizes.get(domain)?.length ?? 0;
  for (const [key, { clocks, streams }] of byLabel([...crossings], ([numbers]) => numbers)) {
    const [low, high] = key.split(' ');
    const parties = clocksByName([...clocks]);
    // Fewer boxes to change: those of the domain with the fewer clocks.
    const to = sizeOf(low) < sizeOf(high) ? high : low;
    const few = parties.filter(({ domain }) => String(domain) !== to);
    const [first] = few;
    if (first === undefined) continue;
    yield {
      subject: `domains ${low ?? ''} and ${high ?? ''}`,
      parties: parties.map(({ name }) => name),
      what: `streams pass between PTP domains ${low ?? ''} and ${high ?? ''}: ${listNames(byLabel([...streams], (one) => one))}`,
      at: clockMark(first, `domain ${first.domain}`, 'domain'),
      others: parties.filter((one) => one !== first).map((one) => clockMark(one, `domain ${one.domain}`, 'domain')),
      onAir: onAirWords('at these receivers'),
      fix: `put ${listNames(few.map(({ name }) => name))} into domain ${to ?? ''} like the others, or leave both domains only where their grandmasters are locked to the same primary reference`,
      touch: clockTouch(first),
    };
  }
}

function isAssumed({ assumed }: Clock): boolean {
  return assumed.has('domain');
}

function onAirWords(where: string): string {
  return `nothing warns of it, and each domain keeps its own time: sound clicks and pictures repeat or drop frames ${where}, from every few seconds to every few hours`;
}
