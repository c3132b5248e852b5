/** Whole samples in a packet of sound, from a packet time that is often written rounded. */
import { add, divide, floor, multiply, ratio, toNumber, type Ratio } from './ratio.js';

/** Samples in a packet of 125, 250, 333⅓ µs, 1 and 4 ms, at 48 kHz and at 44.1 kHz alike (AES67 §7.2). */
const NAMED_TIMES: readonly { readonly samples: number; readonly timeNs: number }[] = [
  { samples: 6, timeNs: 125_000 },
  { samples: 12, timeNs: 250_000 },
  { samples: 16, timeNs: 333_333 },
  { samples: 48, timeNs: 1_000_000 },
  { samples: 192, timeNs: 4_000_000 },
];

/** 83 µs packets, which AM824 has besides those of AES67 (ST 2110-31). */
const FURTHER_SAMPLES = 4;

export interface PacketSamples {
  readonly samples: number;
  readonly assumptions: readonly string[];
}

/**
 * The count a packet time means: the nearest whole number of samples (AES67 §7.2). At 44.1 kHz and its double the time
 * may be the name of the one at 48 kHz, `1 ms` for 48 samples that last 1.088 ms.
 */
export function samplesPerPacket(packetTimeNs: Ratio, sampleRateHz: Ratio): PacketSamples {
  const nearest = floor(add(divide(multiply(packetTimeNs, sampleRateHz), NANOSECONDS), HALF));
  const scale = toNumber(sampleRateHz) > 2 * LOWEST_SINGLE_RATE ? 2 : 1;
  const usual = [FURTHER_SAMPLES, ...NAMED_TIMES.map(({ samples }) => samples)].map((samples) => samples * scale);
  if (usual.includes(nearest)) return { samples: nearest, assumptions: [] };
  const timeNs = toNumber(packetTimeNs);
  const named = NAMED_TIMES.find((one) => Math.abs(one.timeNs - timeNs) < NAME_TOLERANCE_NS);
  if (named !== undefined && isFamilyOf44100(sampleRateHz)) {
    const samples = named.samples * scale;
    const lastsMs = Number(((samples * 1000) / toNumber(sampleRateHz)).toFixed(3));
    return {
      samples,
      assumptions: [`the packet time names a packet of ${samples} samples, which last ${lastsMs} ms (AES67 §7.2)`],
    };
  }
  return { samples: nearest, assumptions: [`${nearest} samples a packet is none of the counts of AES67 §7.2`] };
}

const NANOSECONDS = 1e9;
const HALF = ratio(1, 2);
const LOWEST_SINGLE_RATE = 40_000;
/** Times are written to hundredths of a millisecond. */
const NAME_TOLERANCE_NS = 10_000;

function isFamilyOf44100(sampleRateHz: Ratio): boolean {
  return sampleRateHz.denominator === 1n && sampleRateHz.numerator % 44_100n === 0n;
}
