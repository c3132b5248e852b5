import { divide, stated, type Ratio } from './ratio.js';
import type { EssenceFacts } from './types.js';

/** Frames per second; undefined when absent or when the fraction is none. */
export function frameRateOf({ frameRate }: Pick<EssenceFacts, 'frameRate'>): Ratio | undefined {
  const numerator = stated(frameRate?.[0]);
  const denominator = stated(frameRate?.[1]);
  return numerator === undefined || denominator === undefined ? undefined : divide(numerator, denominator);
}

/**
 * Lines of each part of a frame that no packet mixes with another: the frame, or its two fields or segments
 * (ST 2110-20 §6.1.5, §6.2.1).
 */
export function partsOf({ scan }: Pick<EssenceFacts, 'scan'>, height: number): readonly number[] {
  return sendsParts(scan) ? [Math.ceil(height / 2), Math.floor(height / 2)] : [height];
}

/** How many such parts a frame has. */
export function partCount({ scan }: Pick<EssenceFacts, 'scan'>): 1 | 2 {
  return sendsParts(scan) ? 2 : 1;
}

/** What a format without a scan is taken for, said aloud. */
export function scanAssumptions({ scan }: Pick<EssenceFacts, 'scan'>): readonly string[] {
  return scan === undefined ? ['the scan is not stated; taken as progressive'] : [];
}

function sendsParts(scan: EssenceFacts['scan']): boolean {
  return scan === 'interlaced' || scan === 'psf';
}
