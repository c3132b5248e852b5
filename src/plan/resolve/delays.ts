/** What `timing` states besides PTP: media clocks, and ways of which the delay matters. */
import type { RawLipSync, RawRoundTrip, RawTiming } from '../../read/raw-plan.js';
import type { Document } from '../../source/document.js';
import { parseTime } from '../../values/quantity.js';
import type { Device, LipSync, MediaTiming, Origin, Plan, Referrer, Rig, RoundTrip, Sender } from '../types.js';
import { listOrigin, originOf, type Draft, type ResolveContext, type Scope } from './context.js';
import { findSender } from './receivers.js';
import { rawPlan, type Rigs } from './rigs.js';

/** Media clocks, lip-sync pairs and round trips of all documents. */
export function resolveDelays(
  documents: readonly Document[],
  rigs: Rigs,
  devices: Scope<Device>,
  streams: Scope<Sender>,
  context: ResolveContext,
): Pick<Plan, 'mediaTimings' | 'lipSyncs' | 'roundTrips'> {
  const mediaTimings: MediaTiming[] = [];
  const lipSyncs: LipSync[] = [];
  const roundTrips: RoundTrip[] = [];
  for (const document of documents) {
    const raw = rawPlan(document).timing;
    if (raw === undefined) continue;
    const rig = rigs.of(document);
    const scopes: Scopes = { rig, devices, streams, context };
    mediaTimings.push(mediaTiming(originOf(document, raw), rig, raw, context));
    for (const one of raw.lipSync ?? []) lipSyncs.push(lipSync(originOf(document, one), one, scopes));
    for (const one of raw.roundTrips ?? []) roundTrips.push(roundTrip(originOf(document, one), one, scopes));
  }
  return { mediaTimings, lipSyncs, roundTrips };
}

interface Scopes {
  readonly rig: Rig;
  readonly devices: Scope<Device>;
  readonly streams: Scope<Sender>;
  readonly context: ResolveContext;
}

function mediaTiming(origin: Origin, rig: Rig, raw: RawTiming, context: ResolveContext): MediaTiming {
  const linkOffsetNs = context.quantity(origin, 'linkOffset', raw.linkOffset, parseTime);
  return { origin, rig, linkOffsetNs, mediaClock: raw.mediaClock };
}

function lipSync(origin: Origin, raw: RawLipSync, scopes: Scopes): LipSync {
  const one: Draft<LipSync> = { origin, rig: scopes.rig, name: raw.name, at: undefined, picture: [], sound: [] };
  const by: Referrer = { kind: 'lipSync', entity: one };
  one.at = scopes.context.find(scopes.devices, scopes.rig, origin, 'at', raw.at, by);
  one.picture = chain(origin, 'picture', raw.picture, by, scopes);
  one.sound = chain(origin, 'sound', raw.sound, by, scopes);
  return one;
}

function roundTrip(origin: Origin, raw: RawRoundTrip, scopes: Scopes): RoundTrip {
  const { rig } = scopes;
  const one: Draft<RoundTrip> = { origin, rig, name: raw.name, kind: raw.kind ?? 'intercom', there: [], back: [] };
  const by: Referrer = { kind: 'roundTrip', entity: one };
  one.there = chain(origin, 'there', raw.there, by, scopes);
  one.back = chain(origin, 'back', raw.back, by, scopes);
  return one;
}

/** Names that lead nowhere are reported by a rule; a way with a gap is not judged, so it comes back empty. */
function chain(
  origin: Origin,
  key: string,
  names: readonly string[],
  by: Referrer,
  { rig, devices, streams, context }: Scopes,
): readonly Sender[] {
  const list = listOrigin(origin, key);
  const found = names.flatMap((name, index) => findSender(rig, list, index, name, by, devices, streams, context) ?? []);
  return found.length === names.length ? found : [];
}
