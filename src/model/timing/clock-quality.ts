/** What a clock says of its own quality: clockClass and clockAccuracy (IEEE 1588-2008 §7.6.2). */

export interface ClockClass {
  readonly value: number;
  readonly meaning: string;
  /** ARB: an epoch of its own, so that ST 2059 alignment means nothing. */
  readonly timescale: 'PTP' | 'ARB' | undefined;
}

/** Named classes (IEEE 1588-2008 §7.6.2.4 Table 5, as read in the IEEE P1588e YANG module of 2023-08-14). */
export const CLOCK_CLASSES: readonly ClockClass[] = [
  { value: 6, meaning: 'locked to a primary reference', timescale: 'PTP' },
  { value: 7, meaning: 'reference lost, in holdover', timescale: 'PTP' },
  { value: 13, meaning: 'locked to a reference of the application', timescale: 'ARB' },
  { value: 14, meaning: 'application reference lost, in holdover', timescale: 'ARB' },
  { value: 52, meaning: 'reference lost, holdover over, never follows', timescale: 'PTP' },
  { value: 58, meaning: 'application reference lost, holdover over, never follows', timescale: 'ARB' },
  { value: 187, meaning: 'reference lost, holdover over, may follow', timescale: 'PTP' },
  { value: 193, meaning: 'application reference lost, holdover over, may follow', timescale: 'ARB' },
  { value: 248, meaning: 'default: free-running', timescale: undefined },
  { value: 255, meaning: 'follows only', timescale: undefined },
];

/** Class of a clock for which nothing better is stated (IEEE 1588-2008 §7.6.2.4 Table 5). */
export const DEFAULT_CLOCK_CLASS = 248;
/** Class of a clock locked to a primary reference. */
export const LOCKED_CLASS = 6;
/** Class of a clock that only follows. */
export const SLAVE_ONLY_CLASS = 255;
/** Accuracy `unknown` and largest variance: what clocks say that say nothing (linuxptp default.cfg). */
export const DEFAULT_CLOCK_ACCURACY = 0xfe;
export const DEFAULT_VARIANCE = 0xffff;

/** A clock of class 127 or lower never follows another (IEEE 1588-2008 §9.3.3, Figure 26). */
export function neverFollows(clockClass: number): boolean {
  return clockClass <= 127;
}

/** What a class says, in words. */
export function classMeaning(value: number): string {
  const named = CLOCK_CLASSES.find((one) => one.value === value);
  if (named !== undefined) return named.meaning;
  return inAlternateProfile(value) ? 'defined by an alternate profile' : 'reserved';
}

/** Ranges left to alternate profiles (IEEE 1588-2008 Table 5, from memory). */
function inAlternateProfile(value: number): boolean {
  return (value >= 68 && value <= 122) || (value >= 133 && value <= 170) || (value >= 216 && value <= 232);
}

/** Whether a clock without its reference says so at once, while it holds its time (IEEE 1588-2008 table 5): 7 or 14. */
export function isHoldoverClass(clockClass: number): boolean {
  return clockClass === 7 || clockClass === 14;
}

/**
 * Classes a clock steps through when it loses its reference for good (IEEE 1588-2008 Table 5): holdover within
 * specification, then past it. A locked clock whose plan does not state the last one is taken to end at 52 (degradation
 * alternative A), the worse: such a clock keeps its own time beside the new grandmaster. Classes without a lower step
 * stay as they are.
 */
export function classesAfterLoss(clockClass: number, afterHoldover: number | undefined): readonly number[] {
  if (clockClass === 6) return [7, afterHoldover ?? 52];
  if (clockClass === 7) return [afterHoldover ?? 52];
  // The application's own timescale degrades alike: 13, 14, then 58 or 193.
  const last = afterHoldover === 187 ? 193 : 58;
  if (clockClass === 13) return [14, last];
  return clockClass === 14 ? [last] : [];
}

/** clockAccuracy codes and the nanoseconds they promise (IEEE 1588-2019 §7.6.2.6 Table 5, read in the same module). */
export const CLOCK_ACCURACY_NS: ReadonlyMap<number, number> = new Map([
  [0x17, 0.001],
  [0x18, 0.0025],
  [0x19, 0.01],
  [0x1a, 0.025],
  [0x1b, 0.1],
  [0x1c, 0.25],
  [0x1d, 1],
  [0x1e, 2.5],
  [0x1f, 10],
  [0x20, 25],
  [0x21, 100],
  [0x22, 250],
  [0x23, 1e3],
  [0x24, 2.5e3],
  [0x25, 10e3],
  [0x26, 25e3],
  [0x27, 100e3],
  [0x28, 250e3],
  [0x29, 1e6],
  [0x2a, 2.5e6],
  [0x2b, 10e6],
  [0x2c, 25e6],
  [0x2d, 100e6],
  [0x2e, 250e6],
  [0x2f, 1e9],
  [0x30, 10e9],
]);
