/** `16.7 ms`: delays as crews say them, to a tenth of a millisecond. */
export function millisecondWords(ns: number): string {
  return `${Number((ns / 1e6).toFixed(1))} ms`;
}
