/**
 * Exact fractions. Frame rates such as 60000/1001 have no exact decimal form, and a rate that is compared with a port
 * or multiplied by thousands of streams must not drift.
 */

/** A fraction in lowest terms; the denominator is positive. */
export interface Ratio {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

/** `ratio(60000, 1001)`. Both are whole numbers, and the denominator is not zero. */
export function ratio(numerator: number | bigint, denominator: number | bigint = 1): Ratio {
  return reduce(BigInt(numerator), BigInt(denominator));
}

/** Sum of the parts. */
export function add(...parts: readonly Ratio[]): Ratio {
  return parts.reduce((sum, part) =>
    reduce(sum.numerator * part.denominator + part.numerator * sum.denominator, sum.denominator * part.denominator),
  );
}

/** Product of the factors, which may be whole numbers. */
export function multiply(...factors: readonly (Ratio | number)[]): Ratio {
  let numerator = 1n;
  let denominator = 1n;
  for (const factor of factors) {
    numerator *= typeof factor === 'number' ? BigInt(factor) : factor.numerator;
    denominator *= typeof factor === 'number' ? 1n : factor.denominator;
  }
  return reduce(numerator, denominator);
}

/** Quotient; the divisor is not zero. */
export function divide(dividend: Ratio, divisor: Ratio | number): Ratio {
  const by = typeof divisor === 'number' ? ratio(divisor) : divisor;
  return reduce(dividend.numerator * by.denominator, dividend.denominator * by.numerator);
}

/** The greatest whole number not above a fraction that is not negative. */
export function floor(value: Ratio): number {
  return Number(value.numerator / value.denominator);
}

/** The least whole number not below a fraction that is not negative. */
export function ceiling(value: Ratio): number {
  return Number((value.numerator + value.denominator - 1n) / value.denominator);
}

/** The greater of two. */
export function greater(a: Ratio, b: Ratio): Ratio {
  return a.numerator * b.denominator < b.numerator * a.denominator ? b : a;
}

/** The nearest floating-point number; the whole part is split off first so that large fractions keep their digits. */
export function toNumber(value: Ratio): number {
  const whole = value.numerator / value.denominator;
  return Number(whole) + Number(value.numerator - whole * value.denominator) / Number(value.denominator);
}

/**
 * A stated number as a fraction, to a millionth; undefined when it is absent, not above zero, or too large to be a
 * frame rate, sample rate or bit rate.
 */
export function stated(value: number | undefined): Ratio | undefined {
  if (value === undefined || !(value > 0) || value > LARGEST_STATED) return undefined;
  const exact = Number.isInteger(value) ? ratio(value) : ratio(Math.round(value * 1e6), 1e6);
  return exact.numerator === 0n ? undefined : exact;
}

const LARGEST_STATED = 1e15;

function reduce(numerator: bigint, denominator: bigint): Ratio {
  const sign = denominator < 0n ? -1n : 1n;
  const divisor = greatestCommonDivisor(numerator < 0n ? -numerator : numerator, sign * denominator) * sign;
  return { numerator: numerator / divisor, denominator: denominator / divisor };
}

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  while (b !== 0n) [a, b] = [b, a % b];
  return a;
}
