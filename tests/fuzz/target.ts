/** What is fuzzed: a name, seeds, a way to change them, a way to read them. */
import type { Chance } from "./random.ts";
import type { Parts } from "./seeds.ts";

/** How far a case came and what was said on the way. */
export interface Reached {
  /** `refused` by a coded problem; `read` as far as inspection goes; `planned` to the files of a plan. */
  readonly end: "refused" | "read" | "planned";
  readonly codes: readonly string[];
}

export interface Target {
  readonly id: string;
  /** Share of a run's cases, against those of the other targets. */
  readonly weight: number;
  readonly seeds: () => readonly Parts[];
  mutate(parts: Parts, other: Parts, chance: Chance): Parts;
  /** Throws where anything is wrong: an exception of the program, or an answer that breaks its rules. */
  read(parts: Parts, plan: boolean): Promise<Reached>;
}
