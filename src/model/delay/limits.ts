/** Published limits of delay. Times in nanoseconds; sound before picture counts as plus. */

const MS = 1e6;

/** How far sound may lead and lag a picture. */
export interface LipSyncLimit {
  readonly earlyNs: number;
  readonly lateNs: number;
}

/** Where viewers begin to notice (ITU-R BT.1359-1, considering g). */
export const DETECTABLE: LipSyncLimit = { earlyNs: 45 * MS, lateNs: 125 * MS };

/** What is still accepted, over the whole way (ITU-R BT.1359-1, recommends 2). */
export const ACCEPTABLE: LipSyncLimit = { earlyNs: 90 * MS, lateNs: 185 * MS };

/** At an output that feeds transmitters (EBU R 37). */
export const OUTPUT: LipSyncLimit = { earlyNs: 40 * MS, lateNs: 60 * MS };

/** One way, below which speech between two people is not disturbed (ITU-T G.114). */
export const CONVERSATION_NS = 150 * MS;

/** One way, above which a network should not be planned (ITU-T G.114). */
export const PLANNING_LIMIT_NS = 400 * MS;

/** One way, which crews keep intercom below (common practice). */
export const INTERCOM_NS = 100 * MS;

/** There and back, from which one's own voice is heard as an echo (common practice). */
export const OWN_VOICE_NS = 30 * MS;

/** Packet times a receiver of sound buffers at least (AES67-2018 §7.5). */
export const LEAST_BUFFER_PACKETS = 3;

/** Light in fibre (group index 1.468) and a signal in copper pairs alike: 5 µs a kilometre (ITU-T G.114 Annex A). */
export const PROPAGATION_NS_PER_M = 5;

/** Whether sound that leads by `leadNs` is outside a limit. */
export function outside(limit: LipSyncLimit, leadNs: number): boolean {
  return leadNs > limit.earlyNs || -leadNs > limit.lateNs;
}
