import type { Verdict } from "../check/check-plan.ts";
import type { Caution } from "../handover/cautions.ts";
import type { JointPeg } from "../handover/materials/joints.ts";
import type { PricedTotal } from "../handover/prices.ts";
import type { Quantities } from "../handover/quantities.ts";
import type { LoopSchedule } from "../handover/schedule/schedule.ts";
import type { Finding } from "../model/finding.ts";
import type { Plan } from "../model/plan.ts";
import type { Site } from "../model/site.ts";
import type { PriceList } from "../model/site-rules.ts";
import type { SiteSunFigures } from "../model/sun.ts";
import type { PlanOnGround } from "../model/terrain.ts";
import type { LoopCoverage } from "../physics/coverage/coverage.ts";
import type { LoopSignal } from "../physics/signal/signal.ts";
import type { SignalMap } from "../physics/signal/signal-map.ts";

/** A finished plan with all that is said of it: what every exporter is given. */
export interface PlanResult {
  /** The site that was planned; for what is set out and laid from its corners and edges. */
  readonly site: Site;
  readonly plan: Plan;
  /** The plan on the ground, where heights were given. */
  readonly ground?: PlanOnGround | undefined;
  readonly quantities: Quantities;
  /** Joints in the ground where they are not those of the cut: after a revision. */
  readonly joints?: readonly JointPeg[] | undefined;
  readonly cautions: readonly Caution[];
  /** What it comes to, where the user gave prices. */
  readonly prices?: PricedTotal | undefined;
  /** The user's own prices, for comparing reels of other sizes. */
  readonly priceList?: PriceList | undefined;
  /** The signal of each loop, where the user asked for it. */
  readonly signal?: readonly LoopSignal[] | undefined;
  /** The signal as a raster, with it. */
  readonly signalMap?: SignalMap | undefined;
  /** The machine at work on each loop, where the user asked for it. */
  readonly coverage?: readonly LoopCoverage[] | undefined;
  /** The sun through the season, where the user asked for it. */
  readonly sun?: SiteSunFigures | undefined;
  /** What a week asks of each loop's machine. */
  readonly schedule: readonly LoopSchedule[];
  /** First day of the season, `YYYY-MM-DD`, where the user gave one. */
  readonly season?: string | undefined;
  /** What the judge measured; its breaches are among the findings. */
  readonly check?: Verdict | undefined;
  /** Findings of every step, in the order of the steps. */
  readonly findings: readonly Finding[];
}
