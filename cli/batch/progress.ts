import type { Terminal } from "../terminal.ts";

/** How often the line is written, milliseconds. */
const SHOW_MS = 500;

/** Says how far a batch has come and how long it may still take. */
export class Progress {
  readonly #terminal: Terminal;
  readonly #before: number;
  readonly #count: number | undefined;
  readonly #from = Date.now();
  #shownAt = 0;

  /** @param before plots of an earlier run, which say nothing of the speed */
  constructor(terminal: Terminal, before: number, count: number | undefined) {
    this.#terminal = terminal;
    this.#before = before;
    this.#count = count;
  }

  show(done: number): void {
    const now = Date.now();
    if (now - this.#shownAt < SHOW_MS) return;
    this.#shownAt = now;
    this.#terminal.progress(`Planned ${done}${this.#ofAll(done, now)}`);
  }

  #ofAll(done: number, now: number): string {
    if (this.#count === undefined) return "";
    const own = done - this.#before;
    const leftS = ((now - this.#from) / 1000 / own) * (this.#count - done);
    const left = own > 0 ? `, ${words(leftS)} left` : "";
    return ` of ${this.#count}${left}`;
  }
}

function words(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  const minutes = Math.ceil(seconds / 60);
  return minutes < 90 ? `${minutes} min` : `${(minutes / 60).toFixed(1)} h`;
}
