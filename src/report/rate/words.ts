import type { RateResult } from '../../answers/rate.js';

/** What was taken as so, in words. */
export function assumedWords({ assumptions, headroomPercent, headroomAssumed }: RateResult): readonly string[] {
  return [...assumptions, ...(headroomAssumed ? [headroomWords(headroomPercent)] : [])];
}

function headroomWords(percent: number): string {
  return (
    `${percent} % of a port kept free: gapped senders run 4 % above their average inside the picture ` +
    '(ST 2110-21), and clocks and control need room; common practice keeps 10 to 20 %'
  );
}
