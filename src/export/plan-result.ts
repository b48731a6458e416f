import type { Caution } from "../handover/cautions.ts";
import type { PricedTotal } from "../handover/prices.ts";
import type { Quantities } from "../handover/quantities.ts";
import type { Finding } from "../model/finding.ts";
import type { Plan } from "../model/plan.ts";
import type { LoopSignal } from "../physics/signal/signal.ts";

/** A finished plan with all that is said of it: what every exporter is given. */
export interface PlanResult {
  readonly plan: Plan;
  readonly quantities: Quantities;
  readonly cautions: readonly Caution[];
  /** What it comes to, where the user gave prices. */
  readonly prices?: PricedTotal | undefined;
  /** The signal of each loop, where the user asked for it. */
  readonly signal?: readonly LoopSignal[] | undefined;
  /** Findings of every step, in the order of the steps. */
  readonly findings: readonly Finding[];
}
