/** Rates of Ethernet ports. */

/** The slowest common port rate, in bit/s, that holds this; undefined above the fastest. */
export function nextPortRate(neededBps: number): number | undefined {
  return PORT_RATES_BPS.find((rate) => rate >= neededBps);
}

/** Common rates of Ethernet ports (IEEE 802.3-2022). */
const PORT_RATES_BPS = [1e9, 10e9, 25e9, 40e9, 100e9, 200e9, 400e9];
