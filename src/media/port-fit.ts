import type { StreamRate } from './types.js';
import { divide, floor, multiply, ratio } from './ratio.js';

/** A common port speed and its name. */
export interface PortSpeed {
  readonly name: string;
  readonly rateBps: number;
}

/** Speeds media networks are built from (IEEE 802.3). */
export const PORT_SPEEDS: readonly PortSpeed[] = [
  { name: '1G', rateBps: 1e9 },
  { name: '10G', rateBps: 10e9 },
  { name: '25G', rateBps: 25e9 },
  { name: '100G', rateBps: 100e9 },
];

/**
 * Part of a port kept free, in percent. Planning caps of 80 to 90 % are common practice without a source; 90 % is taken
 * because a gapped sender sends 1125/1080 as fast inside the picture as on average (ST 2110-21 §6.3.1), 4.2 % more, and
 * the rest leaves room for clocks, control and discovery.
 */
export const HEADROOM_PERCENT = 10;

/**
 * Whole streams that fit a port with part of it kept free. Tagged frames are counted, the larger of the two, and
 * preamble and gap with them, because the speed of a port counts them too.
 */
export function streamsPerPort(
  rate: Pick<StreamRate, 'exact'>,
  portBps: number,
  headroomPercent = HEADROOM_PERCENT,
): number {
  const usable = multiply(ratio(portBps), ratio(Math.round((100 - headroomPercent) * 1000), 100_000));
  return floor(divide(usable, rate.exact.wireTaggedBps));
}
