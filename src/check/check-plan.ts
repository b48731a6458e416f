/** The judge: measures a wire from anywhere against the site and the machine. */
import type { Finding } from "../model/finding.ts";
import type { Profile } from "../model/profile.ts";
import type { Site } from "../model/site.ts";
import { Case } from "./case.ts";
import type { Breach, Measure } from "./measure.ts";
import type { Rule } from "./rule.ts";
import { RULES } from "./rules.ts";
import type { StatedPlan } from "./stated/stated-plan.ts";

export interface Verdict {
  /** `holds` where no rule that could be measured is broken; doubts aside. */
  readonly verdict: "holds" | "broken";
  readonly measures: readonly Measure[];
  /** One for each breach and place, severity `error`; of doubts `warning`. */
  readonly findings: readonly Finding[];
}

/** A rule with more places than this gets one finding more that counts the rest. */
const PLACES_SHOWN = 20;

/**
 * Judges a plan. It knows nothing of how plans are made: it shares no code with the planner.
 *
 * @param site the site that the wire is for, in the grid of the plan
 * @param profile the machine
 * @param plan the wire and what is said of it; what is not said is not measured
 * @param rules a choice of rules; all where left out
 * @returns figures, breaches with their places, and the verdict. Cost about n log n
 */
export function checkPlan(
  site: Site,
  profile: Profile,
  plan: StatedPlan,
  rules: readonly Rule[] = RULES,
): Verdict {
  const court = new Case(site, profile, plan);
  const measures = rules.map(
    (rule): Measure => ({ rule: rule.id, title: rule.title, ...rule.measure(court) }),
  );
  const findings = rules.flatMap((rule, i) => findingsOf(rule, measures[i]!.breaches, site));
  const isBroken = measures.some((one, i) => one.holds === false && !rules[i]!.isDoubt);
  return { verdict: isBroken ? "broken" : "holds", measures, findings };
}

function findingsOf({ code, isDoubt }: Rule, breaches: readonly Breach[], site: Site): Finding[] {
  const shown = breaches.slice(0, PLACES_SHOWN);
  const rest = breaches.length - shown.length;
  return shown.map(({ message, remedy, atM }, i): Finding => {
    const isLast = i === shown.length - 1 && rest > 0;
    return {
      code,
      severity: isDoubt ? "warning" : "error",
      message: isLast ? `${message} There are ${rest} more such places.` : message,
      remedy,
      ...(atM === undefined ? {} : { atM, at: site.grid.inverse(atM) }),
    };
  });
}
