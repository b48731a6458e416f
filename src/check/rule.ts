import type { Case } from "./case.ts";
import type { MeasureOf } from "./measure.ts";
import type { RuleId } from "./rule-ids.ts";

/** One thing that is measured. */
export interface Rule {
  readonly id: RuleId;
  /** Code of the finding that a breach becomes. */
  readonly code: string;
  /** In words, for the table. */
  readonly title: string;
  /** Where it is true a breach is a warning, which leaves the verdict as it is: opinions may differ. */
  readonly isDoubt?: true;
  measure(court: Case): MeasureOf;
}
