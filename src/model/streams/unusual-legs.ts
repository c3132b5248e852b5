/**
 * Legs that something is unusual about. A plan has hundreds of thousands of legs and nearly all are plain, so one pass
 * picks those that may concern a rule at all, and each rule judges these alone.
 */
import { inPrefix } from '../../values/address.js';
import type { Leg, Plan, Practice } from '../../plan/types.js';
import { aliasedClockGroup, floodedEthernetAddress } from '../groups/index.js';
import { packetTimesDiffer } from './format-differences.js';

/** Legs whose numbers are unusual, each list in plan order. */
export interface UnusualNumbers {
  /** UDP port odd. */
  readonly oddPort: readonly Leg[];
  /** RTP payload type below 96, where the free ones begin (RFC 3551 §3). */
  readonly lowPayloadType: readonly Leg[];
  /** TTL 0 or 1: the packets pass no router (RFC 1112 §6.1). */
  readonly lowTtl: readonly Leg[];
  /** Second legs whose UDP port is not the first's plus what their conventions promise, where both are known. */
  readonly offPort: readonly Leg[];
  /** Legs whose payload type is not that of their sender's first leg, where both are known. */
  readonly unlikePayloadType: readonly Leg[];
  /** Legs whose packet time is not that of their sender's first leg, where both are known. */
  readonly unlikePacketTime: readonly Leg[];
}

/** Sender legs with a group that is not plain in their rig. */
export function unusualGroups(plan: Plan): readonly Leg[] {
  const found: Leg[] = [];
  let practice: Practice | undefined;
  let followed: ReadonlySet<number> = NONE;
  for (const leg of plan.legs) {
    const { group } = leg;
    if (group === undefined) continue;
    const own = leg.sender.rig.practice;
    if (own !== practice) followed = plainBlocks((practice = own));
    if (typeof group !== 'number' || !followed.has(group >>> 24) || !isPlain(group)) found.push(leg);
  }
  return found;
}

const NONE: ReadonlySet<number> = new Set();
/** 239/8 and 232/8, by their first number. */
const MEDIA_BLOCKS = [0xef, 0xe8];
/** 239.255/16 by its upper half: lighting data and the top of the local scope (RFC 2365 §9). */
const LOCAL_SCOPE = 0xefff;
/** Top /24 of the organization-local scope by its upper three numbers (RFC 2365 §9). */
const ORGANIZATION_LOCAL_SCOPE_TOP = 0xefc3ff;

/** Those of the two blocks for media that lie wholly in the ranges of a practice. */
function plainBlocks({ groupRanges }: Practice): ReadonlySet<number> {
  return new Set(
    MEDIA_BLOCKS.filter((block) => groupRanges.some((one) => one.length <= 8 && inPrefix(block * 2 ** 24, one))),
  );
}

/**
 * Whether nothing but its block matters about a group of 239/8 or 232/8: nobody else owns it, no switch floods it, and
 * no clock or lighting desk meets it. That covers 232.0.0.0/24 (RFC 4607 §9), which switches flood.
 */
function isPlain(group: number): boolean {
  if (group >>> 16 === LOCAL_SCOPE || group >>> 8 === ORGANIZATION_LOCAL_SCOPE_TOP) return false;
  return !floodedEthernetAddress(group) && aliasedClockGroup(group) === undefined;
}

/** Reads every number of every leg once: each reading looks into the tree, and into the kind's below it. */
export function unusualNumbers(plan: Plan): UnusualNumbers {
  const oddPort: Leg[] = [];
  const lowPayloadType: Leg[] = [];
  const lowTtl: Leg[] = [];
  const offPort: Leg[] = [];
  const unlikePayloadType: Leg[] = [];
  const unlikePacketTime: Leg[] = [];
  let firstPort: number | undefined;
  let firstType: number | undefined;
  let firstTimeNs: number | undefined;
  for (const leg of plan.legs) {
    const { port, payloadType, ttl, packetTimeNs } = leg;
    if (port !== undefined && port % 2 === 1) oddPort.push(leg);
    if (payloadType !== undefined && payloadType < 96) lowPayloadType.push(leg);
    if (ttl !== undefined && ttl <= 1) lowTtl.push(leg);
    if (leg.index === 0) {
      firstPort = port;
      firstType = payloadType;
      firstTimeNs = packetTimeNs;
      continue;
    }
    const { portOffset } = leg.sender.rig.conventions;
    if (portOffset !== undefined && leg.index === 1 && port !== undefined && firstPort !== undefined) {
      if (port !== firstPort + portOffset) offPort.push(leg);
    }
    if (payloadType !== firstType && payloadType !== undefined && firstType !== undefined) unlikePayloadType.push(leg);
    if (packetTimesDiffer(firstTimeNs, packetTimeNs)) unlikePacketTime.push(leg);
  }
  return { oddPort, lowPayloadType, lowTtl, offPort, unlikePayloadType, unlikePacketTime };
}
