import { shownLines } from "../src/escape/hidden.ts";
import { jsonText } from "../src/escape/json.ts";
import { findingsText } from "../src/export/findings-text.ts";
import type { WrittenFinding } from "../src/export/ordered-findings.ts";

/** Options that every command has. */
export interface CommonOptions {
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/**
 * Where a command writes: results to standard output, everything else to standard error. Whatever
 * text goes by here shows what it is, even where its maker forgot to see to the names in it.
 */
export class Terminal {
  readonly #json: boolean;
  readonly #quiet: boolean;
  #progressShown = false;

  constructor(options: CommonOptions) {
    this.#json = options.json === true;
    this.#quiet = options.quiet === true;
  }

  /** The result: as JSON with `--json`, otherwise as text unless `--quiet`. */
  result(json: unknown, text: () => string): void {
    this.#clearProgress();
    if (this.#json) process.stdout.write(`${jsonText(json, 2)}\n`);
    else if (!this.#quiet) process.stdout.write(shownLines(text()));
  }

  /**
   * Data for another program, which has escaped its text itself. Resolves when it is gone.
   *
   * @throws Error with `code` where it cannot be written, e.g. `EPIPE` where nobody reads it
   */
  data(text: string): Promise<void> {
    this.#clearProgress();
    return new Promise((done, fail) => {
      process.stdout.write(text, (error) => (error ? fail(error) : done()));
    });
  }

  /** Findings, with `--quiet` only those that say the result must not be used as it stands. */
  findings(findings: readonly WrittenFinding[]): void {
    this.#clearProgress();
    const shown = this.#quiet ? findings.filter((one) => one.severity === "error") : findings;
    if (shown.length > 0) process.stderr.write(shownLines(`Findings\n${findingsText(shown)}\n`));
  }

  /** A last line for people, not for `--json`. */
  note(text: string): void {
    if (!this.#json && !this.#quiet) process.stdout.write(shownLines(`${text}\n`));
  }

  /** What is being done, on a terminal only; the next output takes its place. */
  progress(text: string): void {
    if (this.#quiet || !process.stderr.isTTY) return;
    process.stderr.write(`\r\x1b[K${text}…`);
    this.#progressShown = true;
  }

  #clearProgress(): void {
    if (this.#progressShown) process.stderr.write("\r\x1b[K");
    this.#progressShown = false;
  }
}
