/** Quantities a plan writes with their unit: rates, times, lengths. Each is read into one base unit. */

const RATE_UNITS: Readonly<Record<string, number>> = { '': 1, k: 1e3, M: 1e6, G: 1e9, T: 1e12 };
const TIME_UNITS: Readonly<Record<string, number>> = { ns: 1, us: 1e3, µs: 1e3, ms: 1e6, s: 1e9 };
const LENGTH_UNITS: Readonly<Record<string, number>> = { m: 1, km: 1e3 };

/** `10G`, `2.5 Gbit/s`, `100 Mbit/s`, `300 bit/s` in bit/s; undefined when malformed or without a unit. */
export function parseRate(text: string): number | undefined {
  const match = /^(\d+(?:\.\d+)?) ?(?:([kMGT])(?:bit\/s|b\/s|bps)?|bit\/s|b\/s|bps)$/.exec(text);
  return match === null ? undefined : scaled(match[1], RATE_UNITS[match[2] ?? '']);
}

/** `1 ms`, `125 us`, `0.125 ms` in nanoseconds; undefined when malformed. */
export function parseTime(text: string): number | undefined {
  const match = /^(\d+(?:\.\d+)?) ?(ns|us|µs|ms|s)$/.exec(text);
  return match === null ? undefined : scaled(match[1], TIME_UNITS[match[2] ?? '']);
}

/** `300 m`, `1.2 km` in metres; undefined when malformed. */
export function parseLength(text: string): number | undefined {
  const match = /^(\d+(?:\.\d+)?) ?(km|m)$/.exec(text);
  return match === null ? undefined : scaled(match[1], LENGTH_UNITS[match[2] ?? '']);
}

/**
 * `50`, `59.94`, `60000/1001` as a fraction. Decimal spellings of the 1000/1001 rates mean the exact fraction
 * (ST 2110-20 §7.2 writes them as one).
 */
export function parseFrameRate(text: string): readonly [number, number] {
  const [numerator = '', denominator = '1'] = text.split('/');
  const value = Number(numerator);
  if (denominator === '1' && !Number.isInteger(value)) {
    const whole = Math.ceil(value);
    if (Math.abs((whole * 1000) / 1001 - value) < 0.005) return [whole * 1000, 1001];
    return [Math.round(value * 1000), 1000];
  }
  return [value, Number(denominator)];
}

/** In the largest unit that leaves no more than two decimals: `2.5 Gbit/s`. */
export function formatRate(rateBps: number): string {
  for (const [unit, size] of [
    ['T', 1e12],
    ['G', 1e9],
    ['M', 1e6],
    ['k', 1e3],
  ] as const) {
    if (rateBps >= size) return `${Number((rateBps / size).toFixed(2))} ${unit}bit/s`;
  }
  return `${rateBps} bit/s`;
}

/** `1 ms`, `125 µs`. */
export function formatTime(timeNs: number): string {
  for (const [unit, size] of [
    ['s', 1e9],
    ['ms', 1e6],
    ['µs', 1e3],
  ] as const) {
    if (timeNs >= size) return `${Number((timeNs / size).toFixed(3))} ${unit}`;
  }
  return `${timeNs} ns`;
}

/** Seconds as a crew says them: `4 min 20 s`, `1 h 5 min`, `31.25 s`. */
export function formatSeconds(seconds: number): string {
  const rounded = Number(seconds.toFixed(3));
  const hours = Math.floor(rounded / 3600);
  const minutes = Math.floor((rounded % 3600) / 60);
  const rest = Number((rounded % 60).toFixed(3));
  const parts = [
    ...(hours > 0 ? [`${hours} h`] : []),
    ...(minutes > 0 ? [`${minutes} min`] : []),
    ...(rest > 0 ? [`${rest} s`] : []),
  ];
  return parts.length === 0 ? '0 s' : parts.join(' ');
}

function scaled(digits: string | undefined, unit: number | undefined): number | undefined {
  return digits === undefined || unit === undefined ? undefined : Number(digits) * unit;
}
