/** Seconds, from the least to the most. */
export interface Span {
  readonly fromS: number;
  readonly toS: number;
}
