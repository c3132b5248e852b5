/**
 * Legs that something is unusual about. A plan has hundreds of thousands of legs and nearly all are plain, so one pass
 * picks those that may concern a question at all, and each question looks at these alone. Going through all legs costs
 * a large plan what its memory costs to read, however little is asked of each: what is asked of all is asked here.
 */
import { kept } from '../../collections/kept.js';
import { inPrefix } from '../../values/address.js';
import type { Format, Leg, Plan, Practice } from '../../plan/types.js';
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

/** All that the one pass picks; each list in plan order. */
export interface UnusualLegs extends UnusualNumbers {
  /** Sent to a group that is not plain in the leg's rig. */
  readonly groups: readonly Leg[];
  /** Sent to no group: to one address, or to nothing that is known. */
  readonly groupless: readonly Leg[];
  /** Whose source is not an address of the interface they leave by. */
  readonly ownSource: readonly Leg[];
  /** Whose source is not known. */
  readonly sourceless: readonly Leg[];
  /** Second legs on the interface or in the VLAN of the first, where that is known. */
  readonly together: readonly Leg[];
  /** Whether any is sent to one address, or states its reference clock. */
  readonly stateUnicast: boolean;
  readonly stateClock: boolean;
  /** What there is to send: all legs of one entry send at one rate. */
  readonly makes: readonly Make[];
}

/** Legs of one format and packet time. */
export interface Make {
  /** The first of them. */
  readonly leg: Leg;
  /** How many of them are sent anywhere: to a group or to one address. */
  readonly destined: number;
}

const KNOWN = new WeakMap<Plan, UnusualLegs>();

/** Found once a plan. */
export function unusualLegs(plan: Plan): UnusualLegs {
  let known = KNOWN.get(plan);
  if (known === undefined) KNOWN.set(plan, (known = findUnusual(plan)));
  return known;
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
function findUnusual(plan: Plan): UnusualLegs {
  const oddPort: Leg[] = [];
  const lowPayloadType: Leg[] = [];
  const lowTtl: Leg[] = [];
  const offPort: Leg[] = [];
  const unlikePayloadType: Leg[] = [];
  const unlikePacketTime: Leg[] = [];
  const groups: Leg[] = [];
  const groupless: Leg[] = [];
  const ownSource: Leg[] = [];
  const sourceless: Leg[] = [];
  const together: Leg[] = [];
  let stateUnicast = false;
  let stateClock = false;
  const makes = createMakes();
  let practice: Practice | undefined;
  let followed: ReadonlySet<number> = NONE;
  let first: Leg | undefined;
  let firstPort: number | undefined;
  let firstType: number | undefined;
  let firstTimeNs: number | undefined;
  for (const leg of plan.legs) {
    const { port, payloadType, ttl, packetTimeNs, group, unicast, source, interface: via, sender } = leg;
    if (port !== undefined && port % 2 === 1) oddPort.push(leg);
    if (payloadType !== undefined && payloadType < 96) lowPayloadType.push(leg);
    if (ttl !== undefined && ttl <= 1) lowTtl.push(leg);
    if (unicast !== undefined) stateUnicast = true;
    if (!stateClock && leg.referenceClock !== undefined) stateClock = true;
    if (group === undefined) groupless.push(leg);
    else {
      const own = sender.rig.practice;
      if (own !== practice) followed = plainBlocks((practice = own));
      if (typeof group !== 'number' || !followed.has(group >>> 24) || !isPlain(group)) groups.push(leg);
    }
    if (source === undefined) sourceless.push(leg);
    else if (source !== via?.address && source !== via?.address6) ownSource.push(leg);
    const make = makes.of(leg, sender.format, packetTimeNs);
    if (group !== undefined || unicast !== undefined) make.destined++;
    if (leg.index === 0) {
      first = leg;
      firstPort = port;
      firstType = payloadType;
      firstTimeNs = packetTimeNs;
      continue;
    }
    if (leg.index === 1 && first !== undefined) {
      const sameVlan = leg.vlan !== undefined && leg.vlan === first.vlan;
      if (sameVlan || (via !== undefined && via === first.interface)) together.push(leg);
      const { portOffset } = sender.rig.conventions;
      if (portOffset !== undefined && port !== undefined && firstPort !== undefined) {
        if (port !== firstPort + portOffset) offPort.push(leg);
      }
    }
    if (payloadType !== firstType && payloadType !== undefined && firstType !== undefined) unlikePayloadType.push(leg);
    if (packetTimesDiffer(firstTimeNs, packetTimeNs)) unlikePacketTime.push(leg);
  }
  const numbers = { oddPort, lowPayloadType, lowTtl, offPort, unlikePayloadType, unlikePacketTime };
  return { ...numbers, groups, groupless, ownSource, sourceless, together, stateUnicast, stateClock, makes: makes.all };
}

interface MakeDraft extends Make {
  destined: number;
}

/** Thousands of legs in a row are of one make. */
function createMakes(): {
  readonly all: readonly Make[];
  readonly of: (leg: Leg, format: Format | undefined, packetTimeNs: number | undefined) => MakeDraft;
} {
  const all: MakeDraft[] = [];
  const known = new Map<Format | undefined, Map<number | undefined, MakeDraft>>();
  let last:
    { readonly format: Format | undefined; readonly timeNs: number | undefined; readonly make: MakeDraft } | undefined;
  return {
    all,
    of: (leg, format, timeNs) => {
      if (last !== undefined && last.format === format && last.timeNs === timeNs) return last.make;
      const byTime = kept(known, format, () => new Map<number | undefined, MakeDraft>());
      let make = byTime.get(timeNs);
      if (make === undefined) {
        byTime.set(timeNs, (make = { leg, destined: 0 }));
        all.push(make);
      }
      last = { format, timeNs, make };
      return make;
    },
  };
}
