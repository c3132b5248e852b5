import type { FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly format: string;
}

export function words({ format }: Facts): FindingWords<never> {
  return {
    what: `no sender or receiver has format ${format}`,
    onAir:
      'nothing by itself; where a stream should have this format and does not say so, its bandwidth is not counted',
    fix: 'write `format` in the streams that have it, or take the format out',
  };
}
