/** Offsets of the first character of every line. `\n`, `\r\n` and a lone `\r` end a line. */
export class LineIndex {
  readonly #starts: readonly number[];

  constructor(text: string) {
    const starts = [0];
    const breaks = /\r\n?|\n/g;
    while (breaks.exec(text) !== null) starts.push(breaks.lastIndex);
    this.#starts = starts;
  }

  /** Line and column, both from 1, of a UTF-16 offset. */
  at(offset: number): { readonly line: number; readonly column: number } {
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.#starts[middle] ?? 0) <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: offset - (this.#starts[low] ?? 0) + 1 };
  }
}
