// A checker of StrykerJS that lets a drawn sample of the mutants through and holds the rest back.
// The draw goes by a hash of the seed and of what the mutant is, so it is the same on every machine.
import { createHash } from "node:crypto";
import { commonTokens, declareClassPlugin, PluginKind } from "@stryker-mutator/api/plugin";

/** What a mutant that was not drawn is told by in the report. */
export const NOT_DRAWN = "not in the sample";

/** Where a mutant comes in the draw: a hexadecimal number, evenly spread. */
export function lotOf({ fileName, location, mutatorName, replacement }, seed) {
  // From `src` on: the sandbox's own path is another in every run.
  const file = fileName.replaceAll("\\", "/").replace(/^.*\/(?=src\/)/, "");
  const { start, end } = location;
  const place = [start.line, start.column, end.line, end.column].join(" ");
  const text = [seed, file, place, mutatorName, replacement].join("\n");
  return createHash("sha256").update(text).digest("hex");
}

class Sampling {
  static inject = [commonTokens.options];
  #drawn = new Set();

  constructor({ sampling }) {
    this.sampling = sampling;
  }

  async init() {}

  /** Is given all mutants at once, before any is run. */
  async group(mutants) {
    const { size, seed } = this.sampling;
    const lots = mutants
      .map((mutant) => ({ id: mutant.id, lot: lotOf(mutant, seed) }))
      .sort((a, b) => (a.lot < b.lot ? -1 : 1));
    for (const { id } of lots.slice(0, size)) this.#drawn.add(id);
    return [mutants.map(({ id }) => id)];
  }

  async check(mutants) {
    return Object.fromEntries(
      mutants.map(({ id }) => [
        id,
        this.#drawn.has(id) ? { status: "passed" } : { status: "compileError", reason: NOT_DRAWN },
      ]),
    );
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.Checker, "sampling", Sampling)];

export const strykerValidationSchema = {
  properties: {
    sampling: {
      type: "object",
      properties: { size: { type: "number" }, seed: { type: "number" } },
    },
  },
};
