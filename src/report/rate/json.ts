/** What a stream puts on the wire, for programs. */
import type { RateResult } from '../../answers/rate.js';
import type { FormatForm } from '../../media/said.js';
import { assumedWords } from './words.js';

/** Keys come in a fixed order. */
export function rateJson(result: RateResult): object {
  const { exact, ...numbers } = result.rate;
  return {
    format: result.said,
    ...numbers,
    exactWireTaggedBps: `${exact.wireTaggedBps.numerator}/${exact.wireTaggedBps.denominator}`,
    assumptions: assumedWords(result),
    headroomPercent: result.headroomPercent,
    streamsPerPort: Object.fromEntries(result.ports.map(({ name, streams }) => [name, streams])),
  };
}

export function formsJson(forms: readonly FormatForm[]): object {
  return { forms };
}
