import type { DrawnPlan } from "./drawn-plan.ts";

/** A file of another format. */
export interface ExchangeFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** One line on what a format could not hold of this plan. */
export interface Loss {
  /** Features that it concerns; 0 where it is about the file as a whole. */
  readonly features: number;
  /** In plain words, e.g. `findings without a place`. */
  readonly what: string;
}

/** What a writer made. */
export interface Written {
  readonly files: readonly ExchangeFile[];
  /** Features that are in the files. */
  readonly features: number;
  readonly losses: readonly Loss[];
}

export type WritePlan = (plan: DrawnPlan) => Written | Promise<Written>;
