/** Runs works one after the other, in the order in which they are handed over. */
export class InTurn {
  #last: Promise<unknown> = Promise.resolve();

  run<T>(work: () => Promise<T>): Promise<T> {
    const next = this.#last.then(work);
    this.#last = next.catch(() => {});
    return next;
  }
}
