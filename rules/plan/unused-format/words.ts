import type { FindingWords, Format } from '../../../src/lint/rule.js';

export interface Facts {
  readonly format: Format;
}

export function words({ format }: Facts): FindingWords {
  return {
    what: `no sender or receiver has format ${format.name ?? ''}`,
    onAir:
      'nothing by itself; where a stream should have this format and does not say so, its bandwidth is not counted',
    fix: 'write `format` in the streams that have it, or take the format out',
  };
}
