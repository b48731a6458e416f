/** A binary heap: gives the items back best first, by an order of the caller's. */
export class BestFirst<T> {
  readonly #items: T[];
  readonly #before: (a: T, b: T) => boolean;

  /** @param before whether one item comes before another; a strict order. Linear in the items. */
  constructor(items: T[], before: (a: T, b: T) => boolean) {
    this.#items = items;
    this.#before = before;
    for (let i = (items.length >> 1) - 1; i >= 0; i--) this.#sink(i);
  }

  push(item: T): void {
    const items = this.#items;
    let i = items.push(item) - 1;
    while (i > 0) {
      const parent = (i - 1) >> 1;
      if (!this.#before(item, items[parent]!)) break;
      items[i] = items[parent]!;
      i = parent;
    }
    items[i] = item;
  }

  /** Takes the best item out; undefined where none is left. */
  pop(): T | undefined {
    const items = this.#items;
    const top = items[0];
    const last = items.pop();
    if (items.length > 0) {
      items[0] = last!;
      this.#sink(0);
    }
    return top;
  }

  #sink(from: number): void {
    const items = this.#items;
    const item = items[from]!;
    let i = from;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= items.length) break;
      if (child + 1 < items.length && this.#before(items[child + 1]!, items[child]!)) child++;
      if (!this.#before(items[child]!, item)) break;
      items[i] = items[child]!;
      i = child;
    }
    items[i] = item;
  }
}
