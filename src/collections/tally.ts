/** Counts by small numbers, emptied at the cost of what was counted: one tally serves for many rounds. */
export class Tally {
  readonly #counts: number[] = [];
  readonly #counted: number[] = [];

  /** What was counted since the last clearing, in order of first appearance. */
  get counted(): readonly number[] {
    return this.#counted;
  }

  add(number: number): void {
    const counts = this.#counts;
    while (counts.length <= number) counts.push(0);
    const count = counts[number] ?? 0;
    if (count === 0) this.#counted.push(number);
    counts[number] = count + 1;
  }

  has(number: number): boolean {
    return this.of(number) > 0;
  }

  of(number: number): number {
    // Reading past the end of an array is slow.
    return number < this.#counts.length ? (this.#counts[number] ?? 0) : 0;
  }

  clear(): void {
    for (const number of this.#counted) this.#counts[number] = 0;
    this.#counted.length = 0;
  }
}
