/** Clocks: the PTP settings of devices and switches, and the domains a plan states. */
import type { Document } from '../../source/document.js';
import type { RawPtp, RawPtpDomain, RawPtpTimings } from '../../read/raw-plan.js';
import type {
  Device,
  Network,
  Origin,
  PtpDomain,
  PtpSettings,
  PtpTimings,
  Referrer,
  Rig,
  Switch,
  Wanted,
} from '../types.js';
import { listOrigin, originOf, type Draft, type ResolveContext, type Scope } from './context.js';
import { portNames } from '../port-names.js';
import { rawPlan, type Rigs } from './rigs.js';

/** What a clock's lists of interfaces may name, and who says so. */
export interface PtpParts {
  readonly by: Referrer;
  readonly wanted: Wanted;
  /** Undefined: whatever is written is taken. */
  readonly names: ReadonlySet<string> | undefined;
  readonly ranges: boolean;
  readonly context: ResolveContext;
}

export function partsOfSwitch(one: Switch): Omit<PtpParts, 'context'> {
  const names = one.ports.size === 0 ? undefined : new Set(one.ports.keys());
  return { by: { kind: 'switch', entity: one }, wanted: { kind: 'port', of: one }, names, ranges: true };
}

export function partsOfDevice(device: Device): Omit<PtpParts, 'context'> {
  const names = new Set(device.interfaces.map((one) => one.name));
  return { by: { kind: 'device', entity: device }, wanted: { kind: 'interface', of: device }, names, ranges: false };
}

/** What a device's kind says about its clock. */
export interface PtpBase {
  readonly document: Document;
  readonly raw: RawPtp;
}

/** The settings a device or switch states, over those of its kind. Most have none, and are not asked for their parts. */
export function resolvePtp(
  document: Document,
  own: RawPtp | undefined,
  kind: PtpBase | undefined,
  partsOf: () => PtpParts,
): PtpSettings | undefined {
  const below = kind === undefined ? undefined : originOf(kind.document, kind.raw);
  const origin = own === undefined ? below : originOf(document, own, below);
  if (origin === undefined) return undefined;
  const parts = partsOf();
  const raw: RawPtp = kind === undefined ? (own ?? {}) : { ...kind.raw, ...own };
  const { context } = parts;
  return {
    origin,
    ...timingsOf(raw),
    domain: raw.domain,
    mode: raw.mode,
    priority1: raw.priority1,
    priority2: raw.priority2,
    clockClass: raw.clockClass,
    clockAccuracy: raw.clockAccuracy,
    offsetScaledLogVariance: raw.offsetScaledLogVariance,
    clockIdentity: context.clockIdentity(origin, 'clockIdentity', raw.clockIdentity),
    slaveOnly: raw.slaveOnly,
    grandmaster: raw.grandmaster,
    traceable: raw.traceable,
    afterHoldover: raw.afterHoldover,
    twoStep: raw.twoStep,
    settleS: context.seconds(origin, 'settle', raw.settle),
    capacity: raw.capacity,
    delayRequestCapacity: raw.delayRequestCapacity,
    interfaces: raw.interfaces === undefined ? undefined : partNames(origin, 'interfaces', raw.interfaces, parts),
    masterOnly: partNames(origin, 'masterOnly', raw.masterOnly ?? [], parts),
  };
}

function partNames(
  origin: Origin,
  key: string,
  texts: readonly (string | number)[],
  parts: PtpParts,
): readonly string[] {
  const list = listOrigin(origin, key);
  return texts.flatMap((text, index) => {
    const written = String(text);
    const names = parts.names?.has(written) === true || !parts.ranges ? [written] : (portNames(written) ?? [written]);
    const lost = names.find((name) => parts.names?.has(name) === false);
    if (lost === undefined) return names;
    parts.context.lost(list, index, parts.wanted, lost, parts.by, () => parts.names ?? []);
    return names.filter((name) => parts.names?.has(name) === true);
  });
}

function timingsOf(raw: RawPtpTimings): PtpTimings {
  return {
    profile: raw.profile,
    transport: raw.transport,
    delayMechanism: raw.delayMechanism,
    logAnnounceInterval: raw.logAnnounceInterval,
    logSyncInterval: raw.logSyncInterval,
    logMinDelayReqInterval: raw.logMinDelayReqInterval,
    logMinPdelayReqInterval: raw.logMinPdelayReqInterval,
    announceReceiptTimeout: raw.announceReceiptTimeout,
    delayRequests: raw.delayRequests,
  };
}

export interface PtpDomainScopes {
  readonly devices: Scope<Device>;
  readonly switches: Scope<Switch>;
  readonly networks: Scope<Network>;
}

/** The PTP domains of all documents. */
export function resolvePtpDomains(
  documents: readonly Document[],
  rigs: Rigs,
  scopes: PtpDomainScopes,
  context: ResolveContext,
): readonly PtpDomain[] {
  return documents.flatMap((document) => {
    const rig = rigs.of(document);
    return (rawPlan(document).timing?.domains ?? []).map((raw) =>
      resolvePtpDomain(document, raw, rig, scopes, context),
    );
  });
}

function resolvePtpDomain(
  document: Document,
  raw: RawPtpDomain,
  rig: Rig,
  scopes: PtpDomainScopes,
  context: ResolveContext,
): PtpDomain {
  const origin = originOf(document, raw);
  const domain: Draft<PtpDomain> = {
    origin,
    rig,
    ...timingsOf(raw),
    name: raw.name,
    number: raw.number,
    edition: raw.edition,
    grandmasters: [],
    networks: undefined,
  };
  const by: Referrer = { kind: 'ptpDomain', entity: domain };
  const { devices, switches, networks } = scopes;
  const leaders = listOrigin(origin, 'grandmasters');
  const leader = (text: string, index: number): readonly (Device | Switch)[] => {
    const found = devices.find(rig, text) ?? switches.find(rig, text);
    if (found !== undefined) return [found];
    context.lost(leaders, index, { kind: 'device' }, text, by, () => [...devices.names(), ...switches.names()]);
    return [];
  };
  const places = listOrigin(origin, 'networks');
  domain.grandmasters = (raw.grandmasters ?? []).flatMap(leader);
  domain.networks = raw.networks?.flatMap((text, index) => context.find(networks, rig, places, index, text, by) ?? []);
  return domain;
}
