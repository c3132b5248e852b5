/** Lists by small numbers: much cheaper than lists by objects where there are hundreds of thousands. */
export class NumberedLists<T> {
  readonly #lists: (T[] | undefined)[] = [];

  append(number: number, item: T): void {
    const lists = this.#lists;
    while (lists.length <= number) lists.push(undefined);
    const list = lists[number];
    if (list === undefined) lists[number] = [item];
    else list.push(item);
  }

  of(number: number): readonly T[] {
    return (number < this.#lists.length ? this.#lists[number] : undefined) ?? NOTHING;
  }
}

const NOTHING: readonly never[] = [];
