/** Packet size, packet rate and bit rates of a stream from its format alone. */
import { codingNamed } from './codings/index.js';
import type { FormatFacts } from './format.js';
import { lacking, type RateOptions, type RateResult } from './types.js';

/**
 * The rate of one copy of a stream, or the facts its format lacks. Pure; the time it takes does not depend on the
 * format, but for packets filled across lines, which are laid out one by one.
 */
export function streamRate(format: FormatFacts, options: RateOptions = {}): RateResult {
  return codingNamed(format.coding)?.rate(format, options) ?? lacking('coding');
}
