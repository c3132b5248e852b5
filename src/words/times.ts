/** Delays in words. */

/** A delay, and whether it is only what is known of it. */
export interface Delay {
  readonly ns: number;
  /** The plan leaves parts of it open: it is at least this much. */
  readonly isLeast: boolean;
}

/** `40.8 ms`, `at least 116.8 ms`. */
export function delayWords({ ns, isLeast }: Delay): string {
  return `${isLeast ? 'at least ' : ''}${milliseconds(ns)}`;
}

/** `40.8 ms`: to the tenth, which is finer than anybody hears or sees. */
export function milliseconds(ns: number): string {
  return `${Number((ns / 1e6).toFixed(1))} ms`;
}
