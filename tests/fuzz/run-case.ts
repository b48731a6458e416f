/** One case: a seed changed by chance, read, and what came of it. */
import { BadAnswer } from "./answers.ts";
import { Chance } from "./random.ts";
import type { Parts } from "./seeds.ts";
import type { Reached, Target } from "./target.ts";

/** One case in so many is planned as well, not only inspected. */
const PLANNED_ONE_IN = 50;

export interface Case {
  readonly parts: Parts;
  readonly plan: boolean;
}

export interface Failure {
  /** The first lines of the error, alike for cases that fail in the same place. */
  readonly what: string;
  readonly stack: string;
}

export type Result = { readonly reached: Reached } | { readonly failure: Failure };

const seedsOf = new Map<string, readonly Parts[]>();

function seeds(target: Target): readonly Parts[] {
  const known = seedsOf.get(target.id) ?? target.seeds();
  seedsOf.set(target.id, known);
  return known;
}

/** The case of that number: the same for the same seed, whatever ran before. */
export function caseOf(target: Target, seed: number, number: number): Case {
  const chance = new Chance(seed, target.id, number);
  const files = seeds(target);
  const plan = chance.oneIn(PLANNED_ONE_IN);
  return { parts: target.mutate(chance.pick(files), chance.pick(files), chance), plan };
}

/** Reads a case. Nothing is thrown. */
export async function readCase(target: Target, { parts, plan }: Case): Promise<Result> {
  try {
    return { reached: await target.read(parts, plan) };
  } catch (error) {
    return { failure: failureOf(error) };
  }
}

function failureOf(error: unknown): Failure {
  if (!(error instanceof Error)) {
    return { what: `thrown: ${JSON.stringify(error) ?? String(error)}`, stack: "" };
  }
  const stack = error.stack ?? "";
  const frame = /\n\s+at (.+)/.exec(stack)?.[1] ?? "";
  const message = error.message.replace(/-?\d[\d.e+-]*/g, "N").slice(0, 200);
  return {
    what: error instanceof BadAnswer ? message : `${error.name}: ${message} ${frame}`,
    stack,
  };
}
