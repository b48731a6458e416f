import type { Finding } from "../../model/finding.ts";
import type { PriceList } from "../../model/site-rules.ts";
import type { Quantities } from "../quantities.ts";

/** What the list of materials leaves open: joints without a good place, lead that nobody can measure. */
export function materialsFindings(
  { cutting, totals }: Quantities,
  list: PriceList | undefined,
): Finding[] {
  const bad = cutting.joints.filter(({ fit }) => fit !== "good");
  const joints = bad.map(({ loop, peg, fit, atM, fromReel, toReel }): Finding => {
    const where = peg === undefined ? `in loop ${loop}` : `at peg ${peg} of loop ${loop}`;
    const place = fit === "pair" ? "in a paired run" : "close to the station";
    return {
      code: "JOINT_PLACE_POOR",
      severity: "warning",
      ...(atM ? { atM } : {}),
      message: `Reels ${fromReel} and ${toReel} of ${cutting.reelM} m can only be joined ${where}, ${place}: no better peg is in reach.`,
      remedy: "Buy longer reels (wire.reel_m of the profile), so that no joint falls there.",
    };
  });
  const pricesLead = list?.items.some(({ per }) => per === "lead_m") ?? false;
  if (!pricesLead || totals.leadM !== undefined || totals.stations === 0) return joints;
  const lead: Finding = {
    code: "LEAD_NOT_COUNTED",
    severity: "warning",
    message: "Lead from station to outlet has a price, but no outlet is given: it counts as 0 m.",
    remedy: 'Give the outdoor socket: a point with role outlet, or "outlet" in the site file.',
  };
  return [...joints, lead];
}
