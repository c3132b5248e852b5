import { roundRates, type Rates } from './packet.js';
import type { Ratio } from './ratio.js';

/** What a stream carries. */
export type Essence = 'video' | 'audio' | 'data';

/** What a format states, whichever way it is coded. Whatever is absent was not stated. */
export interface EssenceFacts {
  readonly essence: Essence | undefined;
  readonly width: number | undefined;
  readonly height: number | undefined;
  /** Frames per second as a fraction: 60000/1001. */
  readonly frameRate: readonly [number, number] | undefined;
  readonly scan: 'progressive' | 'interlaced' | 'psf' | undefined;
  readonly sampling: string | undefined;
  readonly depth: string | undefined;
  /** Packing mode of ST 2110-20 §6.3. */
  readonly packing: 'general' | 'block' | undefined;
  readonly channels: number | undefined;
  readonly sampleRateHz: number | undefined;
  readonly sampleBits: number | undefined;
  readonly packetTimeNs: number | undefined;
  readonly maxUdpOctets: number | undefined;
  /** Stated rate of a compressed format, IP layer (ST 2110-22 `b=AS`), bit/s. */
  readonly rateBps: number | undefined;
}

/** How a sender of general packing (ST 2110-20 §6.3.2) uses the freedom it has. */
export type GeneralPacking =
  /** As few packets to a line as the limit allows, alike as can be, one segment each. */
  | 'lines'
  /** Full packets that run on into the next line. */
  | 'fill';

export interface RateOptions {
  /** A leg may state its own packet time; else the format's. */
  readonly packetTimeNs?: number | undefined;
  /** Absent: `lines`, or `fill` where the format states a limit above the standard one. */
  readonly generalPacking?: GeneralPacking | undefined;
  /**
   * What the stated rate of a transport stream or a coded stream counts: whole IP packets, as a plan's does, or the
   * stream before it is put into packets, as people say it. Absent: packets.
   */
  readonly statedRateCounts?: 'packets' | 'stream' | undefined;
}

/** What one copy of a stream sends. A redundant pair sends it twice, each copy on its own network (ST 2022-7). */
export interface StreamRate extends Rates<number> {
  /** How it is carried, for people: `ST 2110-20, general packing, 4 packets a line`. */
  readonly codingNote: string;
  /** The rates as fractions. */
  readonly exact: Rates<Ratio>;
  /** UDP datagram, with its header. */
  readonly largestUdpOctets: number;
  readonly largestIpOctets: number;
  /** Limit the coding's standard sets; absent where it sets none. */
  readonly udpLimitOctets: number | undefined;
  /** Of the frame, not the field; absent for sound and wherever packets do not follow the picture. */
  readonly packetsPerFrame: number | undefined;
  /**
   * `computed`: the format states all that the rate depends on, but for how packets are filled. `estimated`: content or
   * packet size is taken from common practice.
   */
  readonly basis: 'computed' | 'estimated';
  /** What was taken as so and not stated. */
  readonly assumptions: readonly string[];
}

/** The rate, or the facts without which there is none. */
export type RateResult =
  | { readonly rate: StreamRate; readonly missing: readonly [] }
  | { readonly rate: undefined; readonly missing: readonly string[] };

/** A rate that could be computed. */
export function known(exact: Rates<Ratio>, about: Omit<StreamRate, keyof Rates<number> | 'exact'>): RateResult {
  return { rate: { ...roundRates(exact), ...about, exact }, missing: [] };
}

/** No rate: these facts are missing, or do not fit. */
export function lacking(...missing: readonly string[]): RateResult {
  return { rate: undefined, missing };
}

/** The names of facts that are absent. */
export function absent(facts: Readonly<Record<string, unknown>>): readonly string[] {
  return Object.keys(facts).filter((name) => facts[name] === undefined);
}
