/** Steps that follow where PTP differs: at the clocks a setting counts for, and on paper. */
import { append } from '../collections/group-by.js';
import type { Device, PtpDomain, PtpSettings, PtpTimings, Rig, Switch } from '../plan/types.js';
import { formatClockIdentity } from '../values/clock-identity.js';
import { formatSeconds } from '../values/quantity.js';
import { networkOfDevice, networkOfSwitch } from './carriers.js';
import type { Context } from './context.js';
import { entrySteps, factSteps, numeral, setOf, setOfValues, yesNo, type Facts, type StepPlace } from './facts.js';
import { keyOf, pairUp } from './pairing.js';
import type { Step } from './steps.js';

export function clockSteps(context: Context): readonly Step[] {
  const before = domainsByRig(context.before.ptpDomains);
  const after = domainsByRig(context.after.ptpDomains);
  const { devices, switches } = context.pairing;
  const boxes: readonly (readonly [Device | Switch, Device | Switch])[] = [...devices.both, ...switches.both];
  return [...boxes.flatMap(([old, now]) => boxSteps(old, now, before, after)), ...domainSteps(context)];
}

/** A clock follows what it states itself, else what its domain states. */
function boxSteps(
  before: Device | Switch,
  after: Device | Switch,
  domainsBefore: Domains,
  domainsAfter: Domains,
): readonly Step[] {
  if (before.ptp === undefined && after.ptp === undefined) return [];
  const place = clockPlace(after);
  const paper: StepPlace = { ...place, box: { kind: 'plan', name: after.name }, part: 'paper' };
  const old = effective(before, domainsBefore);
  const now = effective(after, domainsAfter);
  return [
    ...factSteps(place, old === undefined ? {} : clockFacts(old), now === undefined ? {} : clockFacts(now)),
    ...factSteps(paper, old === undefined ? {} : paperFacts(old), now === undefined ? {} : paperFacts(now)),
  ];
}

type Domains = ReadonlyMap<Rig, readonly PtpDomain[]>;

function domainsByRig(domains: readonly PtpDomain[]): Domains {
  const byRig = new Map<Rig, PtpDomain[]>();
  for (const domain of domains) {
    append(byRig, domain.rig, domain);
  }
  return byRig;
}

function effective({ ptp, rig }: Device | Switch, domains: Domains): PtpSettings | undefined {
  if (ptp === undefined) return undefined;
  const own = domains.get(rig) ?? [];
  const number = ptp.domain ?? rig.practice.ptpDomain ?? (own.length === 1 ? own[0]?.number : undefined);
  const domain = own.find((one) => one.number === number);
  if (domain === undefined) return { ...ptp, domain: number };
  return {
    ...ptp,
    domain: number,
    profile: ptp.profile ?? domain.profile,
    transport: ptp.transport ?? domain.transport,
    delayMechanism: ptp.delayMechanism ?? domain.delayMechanism,
    logAnnounceInterval: ptp.logAnnounceInterval ?? domain.logAnnounceInterval,
    logSyncInterval: ptp.logSyncInterval ?? domain.logSyncInterval,
    logMinDelayReqInterval: ptp.logMinDelayReqInterval ?? domain.logMinDelayReqInterval,
    logMinPdelayReqInterval: ptp.logMinPdelayReqInterval ?? domain.logMinPdelayReqInterval,
    announceReceiptTimeout: ptp.announceReceiptTimeout ?? domain.announceReceiptTimeout,
    delayRequests: ptp.delayRequests ?? domain.delayRequests,
  };
}

function clockFacts(ptp: PtpSettings): Facts {
  return {
    'PTP mode': ptp.mode,
    'PTP domain': numeral(ptp.domain),
    priority1: numeral(ptp.priority1),
    priority2: numeral(ptp.priority2),
    'clock class': numeral(ptp.clockClass),
    'follower only': yesNo(ptp.slaveOnly),
    ...timingFacts(ptp),
    'two-step': yesNo(ptp.twoStep),
    'PTP on': setOf(ptp.interfaces ?? []),
    'leads only on': setOf(ptp.masterOnly),
  };
}

/** Intervals as IEEE 1588-2008 §7.7.2 states them, in log2 of seconds. */
function timingFacts(timings: PtpTimings): Facts {
  return {
    'PTP profile': timings.profile,
    'PTP transport': timings.transport,
    'delay mechanism': timings.delayMechanism,
    'announce interval': logSeconds(timings.logAnnounceInterval),
    'sync interval': logSeconds(timings.logSyncInterval),
    'delay request interval': logSeconds(timings.logMinDelayReqInterval),
    'peer delay request interval': logSeconds(timings.logMinPdelayReqInterval),
    'announce timeout': numeral(timings.announceReceiptTimeout, 'intervals'),
    'delay requests': timings.delayRequests,
  };
}

/** What a clock is, rather than what it is set to. */
function paperFacts(ptp: PtpSettings): Facts {
  return {
    'clock identity': ptp.clockIdentity === undefined ? undefined : formatClockIdentity(ptp.clockIdentity),
    'clock accuracy': numeral(ptp.clockAccuracy),
    'clock variance': numeral(ptp.offsetScaledLogVariance),
    'meant to lead': yesNo(ptp.grandmaster),
    traceable: yesNo(ptp.traceable),
    'class after holdover': numeral(ptp.afterHoldover),
    'time to lock': ptp.settleS === undefined ? undefined : formatSeconds(ptp.settleS),
    'followers it serves': numeral(ptp.capacity),
    'delay requests it answers': numeral(ptp.delayRequestCapacity, '/s'),
  };
}

/** `-3 (0.125 s)`: boxes show one or the other. */
function logSeconds(log: number | undefined): string | undefined {
  return log === undefined ? undefined : `${log} (${2 ** log} s)`;
}

function domainSteps({ before, after, pairing }: Context): readonly Step[] {
  const { rigKey, identity } = pairing;
  // Where clocks are known, what a domain says of them all is a step at each.
  const onBoxes = [...after.devices, ...after.switches].some(({ ptp }) => ptp !== undefined);
  const nameOf = ({ name, number }: PtpDomain): string => name ?? (number === undefined ? '' : String(number));
  const pairs = pairUp(before.ptpDomains, after.ptpDomains, (one) => keyOf(rigKey(one.rig), one.name ?? ''));
  const place = (domain: PtpDomain): StepPlace => ({
    rig: domain.rig.name,
    box: { kind: 'plan', name: `PTP domain ${nameOf(domain)}`.trim() },
    part: 'paper',
  });
  const facts = (domain: PtpDomain): Facts => ({
    ...(onBoxes ? {} : { number: numeral(domain.number), ...timingFacts(domain) }),
    edition: domain.edition,
    // The intended one comes first, so their order counts.
    grandmasters: list(domain.grandmasters),
    networks: setOfValues((domain.networks ?? []).map((one) => ({ text: one.name, key: String(identity(one)) }))),
  });
  const list = (boxes: readonly (Device | Switch)[]): { text: string; key: string } | undefined =>
    boxes.length === 0
      ? undefined
      : { text: boxes.map(({ name }) => name).join(', '), key: boxes.map((one) => identity(one)).join(' ') };
  return [
    ...pairs.both.flatMap(([old, now]) => factSteps(place(now), facts(old), facts(now))),
    ...pairs.gone.flatMap((one) => entrySteps(place(one), 'PTP domain', nameOf(one), undefined)),
    ...pairs.fresh.flatMap((one) => entrySteps(place(one), 'PTP domain', undefined, nameOf(one))),
  ];
}

function clockPlace(box: Device | Switch): StepPlace {
  const isSwitch = 'ports' in box;
  return {
    rig: box.rig.name,
    box: { kind: isSwitch ? 'switch' : 'device', name: box.name },
    at: 'clock',
    network: (isSwitch ? networkOfSwitch(box) : networkOfDevice(box))?.name,
    part: 'clocks',
  };
}
