import type { Problem } from "../src/model/finding.ts";

/** Why a command stops without a result. Carries the problem to the one place that reports it. */
export class Refusal extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.message);
    this.problem = problem;
  }
}

/** Stops with a problem of wrong use (exit 2). */
export function misuse(code: string, message: string, remedy: string, file?: string): Refusal {
  return new Refusal({ code, kind: "usage", message, remedy, ...(file ? { file } : {}) });
}

/** Stops with a problem of an input (exit 3). */
export function badInput(code: string, message: string, remedy: string, file: string): Refusal {
  return new Refusal({ code, kind: "input", message, remedy, file });
}
