/** Disjoint sets with path halving; the set's representative depends only on the order of unions. */
export class UnionFind<T> {
  readonly #parent = new Map<T, T>();

  add(item: T): void {
    if (!this.#parent.has(item)) this.#parent.set(item, item);
  }

  has(item: T): boolean {
    return this.#parent.has(item);
  }

  /** Representative of the item's set; an unknown item becomes a set of its own. */
  find(item: T): T {
    const above = this.#parent.get(item);
    if (above === item) return item;
    if (above === undefined) {
      this.#parent.set(item, item);
      return item;
    }
    let at = item;
    for (let parent: T | undefined = above; parent !== undefined && parent !== at; parent = this.#parent.get(at)) {
      const grand = this.#parent.get(parent) ?? parent;
      this.#parent.set(at, grand);
      at = grand;
    }
    return at;
  }

  union(a: T, b: T): void {
    const rootA = this.find(a);
    const rootB = this.find(b);
    if (rootA !== rootB) this.#parent.set(rootB, rootA);
  }

  nodes(): Iterable<T> {
    return [...this.#parent.keys()];
  }
}
