import type { PlotRow } from "../../src/batch/plot-row.ts";
import type { PlotRecord } from "../../src/batch/plot-text.ts";
import { InTurn } from "./in-turn.ts";
import type { PlotSink } from "./run-plots.ts";
import { NO_TOTALS, type Totals, withRow } from "./totals.ts";

/** Most that waits in memory for its turn: characters, and plots. */
const HELD_CHARACTERS_MAX = 50_000_000;
const HELD_PLOTS_MAX = 2_000;

/** Passes results on in order; those that are early wait in memory. */
export class StreamSink implements PlotSink<PlotRecord> {
  readonly #write: (text: string) => Promise<void>;
  readonly #held = new Map<number, PlotRecord>();
  readonly #turns = new InTurn();
  #characters = 0;
  #next = 1;
  totals: Totals = NO_TOTALS;

  /** @param write resolves when the text is gone; throws where nobody takes it any more */
  constructor(write: (text: string) => Promise<void>) {
    this.#write = write;
  }

  has(): boolean {
    return false;
  }

  hasRoom(): boolean {
    return this.#characters < HELD_CHARACTERS_MAX && this.#held.size < HELD_PLOTS_MAX;
  }

  put(number: number, record: PlotRecord): Promise<void> {
    this.#held.set(number, record);
    this.#characters += record.text.length;
    return this.#turns.run(() => this.#passOn());
  }

  async #passOn(): Promise<void> {
    for (;;) {
      const record = this.#held.get(this.#next);
      if (record === undefined) return;
      await this.#write(record.text);
      this.#held.delete(this.#next++);
      this.#characters -= record.text.length;
      this.#count(record.row);
    }
  }

  #count(row: PlotRow): void {
    this.totals = withRow(this.totals, row);
  }
}
