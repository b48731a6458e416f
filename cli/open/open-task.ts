/** What the command and its thread say to each other. */
import type { WrittenFinding } from "../../src/export/ordered-findings.ts";
import type { Problem } from "../../src/model/finding.ts";
import type { PageData } from "../../src/page/model/page-data.ts";
import type { PlanCommandOptions } from "../plan-job.ts";

export type OpenTask =
  /** Finished plans: a folder of results or its page; a second one to compare with. */
  | { readonly of: "plans"; readonly paths: readonly string[] }
  /** A site to be planned, as `pegline plan` has it. */
  | {
      readonly of: "inputs";
      readonly args: readonly string[];
      readonly given: PlanCommandOptions;
    };

/** What came of it, the files that it came from, and their state before they were read. */
export type Opened = { readonly files: readonly string[]; readonly state: string } & (
  | { readonly ok: true; readonly data: PageData; readonly findings: readonly WrittenFinding[] }
  | { readonly ok: false; readonly problem: Problem; readonly isFault: boolean }
);
