/** From a finished plan to what the page shows. */
import { shownText } from "../../escape/hidden.ts";
import { orderedFindings } from "../../export/ordered-findings.ts";
import type { PlanResult } from "../../export/plan-result.ts";
import { boxOf } from "../../geometry/rings.ts";
import { guideOf } from "../../handover/guide/build-guide.ts";
import { type Materials, materialsOf } from "../../handover/materials/materials.ts";
import { pegTable } from "../../handover/setting-out/peg-table.ts";
import type { Finding } from "../../model/finding.ts";
import type { HandOverOptions } from "../../model/hand-over-options.ts";
import type { SiteGrid } from "../../model/site.ts";
import { fileOfProfile } from "../../profile/convert.ts";
import { TOOL, VERSION } from "../../version.ts";
import { flatPoint } from "./flat.ts";
import {
  type PageFinding,
  type PageLoop,
  type PageModel,
  type PagePeg,
  type PageShape,
  SHAPE_KINDS,
} from "./page-model.ts";
import { jointShapes, planShapes } from "./plan-shapes.ts";
import { siteShapes } from "./site-shapes.ts";
import { withOwnNames } from "./station-names.ts";
import { walksOf } from "./walks.ts";

/**
 * The page's model of a plan. Same plan and options, same value. Needs `loadEngine()` awaited, as
 * `planInputs` does.
 *
 * @param options language and units of the plan; the reader may choose others
 */
export function pageModel(
  result: PlanResult,
  { language = "en", units = "m" }: Pick<HandOverOptions, "language" | "units"> = {},
): PageModel {
  const { site, plan, ground, quantities, cautions, priceList, findings, check } = result;
  const { totals } = quantities;
  const errors = findings.filter(({ severity }) => severity === "error").length;
  const materials = materialsOf(plan, quantities, ground, priceList);
  const guide = guideOf({ site, plan, ground, quantities, cautions, errors });
  const pegs = pagePegs(result);
  const shapes = [
    ...siteShapes(site),
    ...withOwnNames(planShapes(plan, ground), site.stations),
    ...jointShapes(materials.joints, new Map(pegs.map((peg) => [peg.number, peg]))),
  ];
  const rank = new Map(SHAPE_KINDS.map((kind, i) => [kind, i]));
  return {
    tool: TOOL,
    version: VERSION,
    siteName: shownText(plan.siteName),
    grid: { origin: plan.grid.origin, proj: plan.grid.projString },
    extent: extentOf(shapes),
    machine: {
      name: plan.profile.name,
      label: shownText(plan.profile.label),
      values: fileOfProfile(plan.profile),
    },
    language,
    units,
    onGround: ground !== undefined,
    totals: {
      wireM: totals.wireGroundM ?? totals.wireM,
      wireToBuyM: totals.wireToBuyM,
      pegs: totals.pegs + totals.guidePegs,
      pegsToBuy: totals.pegsToBuy,
      reels: totals.reels,
      joints: totals.joints,
      stations: totals.stations,
      islands: plan.loops.reduce((sum, loop) => sum + loop.exclusionLoops.length, 0),
      groundM2: plan.groundM2,
      mownM2: totals.mownM2,
      handTrimM2: totals.handTrimM2,
      cutOffM2: totals.cutOffM2,
    },
    loops: pageLoops(result),
    shapes: shapes.sort((a, b) => rank.get(a.kind)! - rank.get(b.kind)!),
    pegs,
    passages: plan.passages.map((one) => ({
      id: `passage:${one.number}`,
      number: one.number,
      widthM: one.widthM,
      wireWidthM: Math.max(0, one.wireWidthM),
      lengthM: one.lengthM,
      verdict: one.verdict,
      beyondM2: one.beyondM2,
      at: flatPoint(one.atM),
    })),
    findings: orderedFindings(findings).map((one, i) => asPageFinding(one, i, result.plan.grid)),
    cautions,
    ...materialRows(materials),
    reelM: plan.profile.wire.reelM,
    guide,
    walks: walksOf(plan, guide, ground),
    ...(check && { verdict: check.verdict }),
  };
}

function pagePegs({ plan, ground }: PlanResult): PagePeg[] {
  return pegTable(plan, ground).map((row) => ({
    id: `peg:${row.number}`,
    number: row.number,
    loop: row.loop,
    wire: row.wire,
    at: flatPoint(row.atM),
    chainageM: row.groundChainageM ?? row.chainageM,
    ...(row.secondChainageM !== undefined && { secondChainageM: row.secondChainageM }),
    ...(row.heightM !== undefined && { heightM: row.heightM }),
    reason: row.reason,
  }));
}

function pageLoops({ plan, quantities }: PlanResult): PageLoop[] {
  return quantities.loops.map((loop) => ({
    name: loop.loop,
    wireM: loop.wireGroundM ?? loop.wireM,
    pegs: loop.pegs + loop.guidePegs,
    pairedRunM: loop.pairedRunM,
    islands: loop.exclusionLoops,
    mownM2: plan.mown.reduce((sum, one) => sum + (one.loop === loop.loop ? one.areaM2 : 0), 0),
    wireToBuyM: loop.wireToBuyM,
    ohm: loop.reading.at20Ohm,
    leastOhm: loop.reading.leastOhm,
    mostOhm: loop.reading.mostOhm,
  }));
}

/**
 * A finding as the page shows it.
 *
 * @param grid for those whose place is known in degrees alone
 */
export function asPageFinding(finding: Finding, index: number, grid?: SiteGrid): PageFinding {
  const { code, severity, message, remedy, file, layer, feature } = finding;
  const atM = finding.atM ?? (finding.at && grid?.forward(finding.at));
  const where = [file, layer, feature].filter((one) => one !== undefined && one !== "");
  return {
    id: `finding:${index + 1}`,
    code,
    severity,
    message: shownText(message),
    remedy: shownText(remedy),
    where: shownText([...new Set(where)].join(" · ")),
    ...(atM?.every(Number.isFinite) && { at: flatPoint(atM) }),
  };
}

function materialRows({ lines, joints, prices }: Materials) {
  return {
    materials: lines.map(({ material, unit, used, spare, toBuy }) => ({
      material,
      unit,
      spare,
      ...(used !== undefined && { used }),
      ...(toBuy !== undefined && { toBuy }),
    })),
    joints: joints.map(({ number, loop, peg, chainageM, joins }) => ({
      number,
      loop,
      peg: peg ?? "",
      chainageM,
      joins,
    })),
    ...(prices && {
      prices: {
        ...prices,
        lines: prices.lines.map((line) => ({ ...line, name: shownText(line.name) })),
      },
    }),
  };
}

/** Of everything that is drawn. */
function extentOf(shapes: readonly PageShape[]): PageModel["extent"] {
  const rings = shapes.flatMap(({ place }) => {
    if (place.form === "point") return [Float64Array.from(place.at)];
    if (place.form === "line") return [Float64Array.from(place.line)];
    return place.areas.flatMap((area) => area.slice(0, 1).map((ring) => Float64Array.from(ring)));
  });
  const { minE, minN, maxE, maxN } = boxOf(...rings);
  return [minE, minN, maxE, maxN];
}
