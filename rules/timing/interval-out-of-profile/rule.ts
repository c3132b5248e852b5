import {
  clause,
  clockMark,
  clockTouch,
  clocksByName,
  defineRule,
  groupBy,
  inRig,
  listNames,
  mark,
  outOfProfile,
  profileNamed,
  type ClockFacts,
  type WordedDraft,
  type Intervals,
  type IntervalKey,
  type OutOfProfile,
  type Plan,
  type Profile,
  type PtpDomain,
} from '../../../src/lint/rule.js';

const KEYS: readonly IntervalKey[] = [
  'logAnnounceInterval',
  'logSyncInterval',
  'logMinDelayReqInterval',
  'logMinPdelayReqInterval',
  'announceReceiptTimeout',
];

export default defineRule({
  id: 'timing/interval-out-of-profile',
  summary: 'A PTP interval is one the profile does not admit',
  severity: 'error',
  sources: [clause('SMPTE ST 2059-2', '6.7'), clause('AES67-2018', 'Annex A'), clause('IEEE 1588-2008', 'J.3')],
  needs: ['clocks', 'ptpProfiles'],
  *check({ plan, model: { timing } }) {
    yield* ofDomains(plan);
    const faults = timing.facts.flatMap(faultsOf);
    for (const same of groupBy(
      faults,
      ({ clock, fault, profile }) =>
        `${clock.domain} ${clock.rig.name} ${profile.key} ${fault.key} ${fault.value} ${fault.least} ${fault.most}`,
    ).values()) {
      const clocks = clocksByName(same.map(({ clock }) => clock));
      const [first] = clocks;
      const [one] = same;
      if (first === undefined || one === undefined) continue;
      const names = clocks.map(({ name }) => name);
      yield {
        subject: `${one.fault.key} ${one.fault.value} in domain ${first.domain}${inRig(first.rig)}`,
        parties: names,
        ...words(one.fault, one.profile, listNames(names)),
        at: clockMark(first, undefined, one.fault.key),
        others: clocks.slice(1).map((other) => clockMark(other, undefined, one.fault.key)),
        touch: clockTouch(first),
      };
    }
  },
});

function* ofDomains(plan: Plan): Iterable<WordedDraft> {
  for (const planned of plan.ptpDomains) {
    const profile = planned.profile === undefined ? undefined : profileNamed(planned.profile, planned.edition);
    if (profile === undefined) continue;
    const stated = statedIntervals(planned, planned.delayMechanism);
    for (const fault of outOfProfile(profile, stated)) {
      const name = `domain ${planned.number ?? planned.name ?? ''}`;
      yield {
        subject: `${fault.key} ${fault.value} of ${name}${inRig(planned.rig)}`,
        parties: [name],
        ...words(fault, profile, name),
        at: mark(planned, name, fault.key),
        touch: { kind: 'plan', name: 'timing' },
      };
    }
  }
}

interface ClockFault {
  readonly clock: ClockFacts;
  readonly profile: Profile;
  readonly fault: OutOfProfile;
}

/** What the clock itself states; what it takes from its domain is said once, there. */
function faultsOf(clock: ClockFacts): readonly ClockFault[] {
  const { profile, settings } = clock;
  if (profile === undefined) return [];
  const stated = statedIntervals(settings, clock.delayMechanism);
  const sync = clock.assumed.has('logSyncInterval') ? {} : { logSyncInterval: clock.logSyncInterval };
  return outOfProfile(profile, { ...stated, ...sync })
    .filter(({ key }) => settings[key] !== undefined)
    .map((fault) => ({ clock, profile, fault }));
}

/** Peer delay does not matter to a clock that measures end to end, nor the other way round. */
function statedIntervals(from: Pick<PtpDomain, IntervalKey>, mechanism: 'e2e' | 'p2p' | undefined): Intervals {
  const unused = mechanism === 'p2p' ? 'logMinDelayReqInterval' : 'logMinPdelayReqInterval';
  return Object.fromEntries(
    KEYS.filter((key) => key !== unused && from[key] !== undefined).map((key) => [key, from[key]]),
  );
}

function words(
  { key, value, least, most, known }: OutOfProfile,
  profile: Profile,
  who: string,
): Pick<WordedDraft, 'severity' | 'what' | 'onAir' | 'fix'> {
  return {
    severity: known === 'read' ? 'error' : 'warning',
    what: `${key} ${value} of ${who} is outside ${least} to ${most}, the range of ${profile.title}`,
    onAir:
      'gear that keeps to the profile refuses the setting or falls back to its own: clocks then time out or never lock, and their pictures and sound drift or flap',
    fix: `set ${key} to a value from ${least} to ${most}; ${profile.title} has ${Math.min(most, Math.max(least, profile[key]?.default.value ?? least))} as default`,
  };
}
