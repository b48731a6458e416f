import type { PricedTotal } from "../handover/prices.ts";
import { clockOf } from "../handover/schedule/clock.ts";
import type { LoopSchedule } from "../handover/schedule/schedule.ts";
import type { PegPlace, Plan } from "../model/plan.ts";
import type { SiteSunFigures } from "../model/sun.ts";
import type { PlanOnGround } from "../model/terrain.ts";
import type { LoopCoverage } from "../physics/coverage/coverage.ts";
import { inductanceUh } from "../physics/reading/inductance.ts";
import type { LoopSignal } from "../physics/signal/signal.ts";
import { BETWEEN_LOOPS } from "../plan/split-words.ts";
import { fileOfProfile } from "../profile/convert.ts";
import { TOOL, VERSION } from "../version.ts";
import { writtenMeasure } from "./check-result.ts";
import { positionOf, roundedLonLat } from "./degrees.ts";
import { areaM2, lengthM, rounded } from "./numbers.ts";
import { orderedFindings, writtenFinding } from "./ordered-findings.ts";
import { passageProperties, placeProperties } from "./plan-geojson.ts";
import type { PlanResult } from "./plan-result.ts";

/** Content of `summary.json` (docs/formats/summary-json.md). */
export type Summary = ReturnType<typeof summaryOf>;

/** The figures of a plan as one JSON value. Key order is fixed: same plan, same bytes. */
export function summaryOf(result: PlanResult) {
  const {
    plan,
    ground,
    quantities,
    cautions,
    prices,
    signal,
    coverage,
    sun,
    schedule,
    check,
    findings,
  } = result;
  const { totals } = quantities;
  const boundOf = new Map(plan.loops.map((loop) => [loop.name, loop.boundM]));
  const boundM = plan.loops.reduce((sum, loop) => sum + loop.boundM, 0);
  return {
    tool: TOOL,
    version: VERSION,
    site: {
      name: plan.siteName,
      crs: plan.grid.projString,
      origin: roundedLonLat(plan.grid.origin),
      area_m2: areaM2(plan.groundM2),
    },
    profile: plan.profile.name,
    profile_values: fileOfProfile(plan.profile),
    terrain: ground ? terrainFigures(ground) : null,
    loops: quantities.loops.map((loop) => ({
      loop: loop.loop,
      length_m: lengthM(loop.wireM),
      ...onGround("ground_length_m", loop.wireGroundM),
      area_m2: areaM2(mownM2(plan, loop.loop)),
      load: rounded(mownM2(plan, loop.loop) / plan.profile.loop.areaMaxM2, 4),
      pegs: loop.pegs,
      paired_run_m: lengthM(loop.pairedRunM),
      ...costOfRuns(loop),
      exclusion_loops: loop.exclusionLoops,
      guide_m: lengthM(loop.guideM),
      ...onGround("guide_ground_m", loop.guideGroundM),
      guide_pegs: loop.guidePegs,
      resistance_ohm: rounded(loop.resistanceOhm, 3),
      reading: {
        at_20_c_ohm: rounded(loop.reading.at20Ohm, 3),
        at_0_c_ohm: rounded(loop.reading.coldOhm, 3),
        at_35_c_ohm: rounded(loop.reading.warmOhm, 3),
        least_ohm: rounded(loop.reading.leastOhm, 2),
        most_ohm: rounded(loop.reading.mostOhm, 2),
      },
      station: stationFigures(plan, loop.loop),
      wire_to_buy_m: lengthM(loop.wireToBuyM),
      wire_bound_m: lengthM(boundOf.get(loop.loop) ?? loop.wireM),
      joints: loop.joints,
    })),
    totals: {
      wire_m: lengthM(totals.wireM),
      ...onGround("wire_ground_m", totals.wireGroundM),
      wire_to_buy_m: lengthM(totals.wireToBuyM),
      wire_bound_m: lengthM(boundM),
      bound_gap: rounded(boundM > 0 ? totals.wireM / boundM - 1 : 0, 5),
      pegs: totals.pegs,
      pegs_by_place: pegsByPlace(plan),
      pegs_to_buy: totals.pegsToBuy,
      reels: totals.reels,
      left_on_reels_m: lengthM(totals.leftOnReelsM),
      joints: totals.joints,
      stations: totals.stations,
      connectors: totals.connectors,
      fixings: totals.fixings,
      lead_m: totals.leadM === undefined ? null : lengthM(totals.leadM),
      paired_run_m: lengthM(totals.pairedRunM),
      ...costOfRuns(totals),
      guide_m: lengthM(totals.guideM),
      ...onGround("guide_ground_m", totals.guideGroundM),
      guide_pegs: totals.guidePegs,
      mown_m2: areaM2(totals.mownM2),
      hand_trim_m2: areaM2(totals.handTrimM2),
      cut_off_m2: areaM2(totals.cutOffM2),
      between_loops_m2: areaM2(betweenLoopsM2(plan)),
    },
    ...(prices && { prices: pricesOf(prices) }),
    schedule: schedule.map(scheduleFigures),
    ...(coverage && { coverage: coverage.map((one) => coverageFigures(one, plan)) }),
    ...(sun && { sun: sunFigures(sun) }),
    ...(signal && { signal: signal.map((one) => signalFigures(one, plan)) }),
    parts: {
      choice: plan.parts.choice,
      compared: plan.parts.compared.map((one) => ({
        parts: one.parts,
        wire_m: lengthM(one.wireM),
        pegs: one.pegs,
        stations: one.stations,
        mown_m2: areaM2(one.mownM2),
      })),
    },
    passages: plan.passages.map((passage) => ({
      ...passageProperties(passage),
      at: positionOf(passage.atM, plan.grid),
    })),
    ...(check && {
      check: { verdict: check.verdict, measures: check.measures.map(writtenMeasure) },
    }),
    findings: orderedFindings(findings).map((finding) => writtenFinding(finding, plan.grid)),
    cautions,
  };
}

/** Where a loop's station stands and how good the place is, with the next best ones. */
function stationFigures({ loops, grid }: Plan, name: string) {
  const station = loops.find((loop) => loop.name === name)?.station;
  if (!station?.figures) return null;
  const { options = [] } = station;
  return {
    at: positionOf(station.atM, grid),
    given: station.given,
    straight_m: lengthM(station.straightM),
    ...placeProperties(station.figures),
    options: options.map(({ atM, figures }) => ({
      at: positionOf(atM, grid),
      straight_m: lengthM(figures.straightM),
      ...placeProperties(figures),
    })),
  };
}

/** A length on the ground under its key, where heights were given. */
function onGround<K extends string>(key: K, valueM: number | undefined): { [P in K]?: number } {
  return (valueM === undefined ? {} : { [key]: lengthM(valueM) }) as { [P in K]?: number };
}

/** The greatest of some values to a tenth; null where there are none. */
function most(values: readonly number[]): number | null {
  return values.length === 0 ? null : rounded(Math.max(...values), 1);
}

function terrainFigures({ from, stepM, lowestM, highestM, loops, steep, falls }: PlanOnGround) {
  const unknownM = loops.reduce((sum, { wire }) => sum + wire.unknownM, 0);
  return {
    from,
    step_m: lengthM(stepM),
    wire_lowest_m: lowestM === undefined ? null : rounded(lowestM, 3),
    wire_highest_m: highestM === undefined ? null : rounded(highestM, 3),
    wire_without_height_m: lengthM(unknownM),
    steep_m2: areaM2(steep.reduce((sum, one) => sum + one.areaM2, 0)),
    steepest_percent: most(steep.map((one) => one.slopePercent)),
    edge_falls_m: lengthM(falls.reduce((sum, one) => sum + one.lengthM, 0)),
    edge_fall_most_percent: most(falls.map((one) => one.fallPercent)),
  };
}

/** What runs come to, where that is more than their length: what the network was chosen by. */
function costOfRuns(one: { readonly pairedRunM: number; readonly pairedRunCostM: number }): {
  paired_run_cost_m?: number;
} {
  const dearer = one.pairedRunCostM - one.pairedRunM > 0.0005;
  return dearer ? { paired_run_cost_m: lengthM(one.pairedRunCostM) } : {};
}

/** Lawn that a loop mows. */
function mownM2({ mown }: Plan, loop: string): number {
  return mown.reduce((sum, area) => (area.loop === loop ? sum + area.areaM2 : sum), 0);
}

/** Ground between the wires of loops that share a part; it counts as cut off, too. */
function betweenLoopsM2({ cutOff }: Plan): number {
  return cutOff.reduce((sum, area) => (area.reason === BETWEEN_LOOPS ? sum + area.areaM2 : sum), 0);
}

/** How many pegs stand where: the reason for each of them. */
function pegsByPlace(plan: Plan): Record<PegPlace, number> {
  const counts: Record<PegPlace, number> = { station: 0, straight: 0, bend: 0, pair: 0 };
  for (const loop of plan.loops) for (const peg of loop.pegs) counts[peg.on]++;
  return counts;
}

function scheduleFigures(one: LoopSchedule) {
  return {
    loop: one.loop,
    ...(one.slopePercent === undefined ? {} : { mean_slope_percent: rounded(one.slopePercent, 1) }),
    mowing_h: rounded(one.mowingH, 2),
    charging_h: rounded(one.chargingH, 2),
    available_h: rounded(one.availableH, 2),
    load: rounded(one.load, 3),
    shifts: one.shifts.map(({ day, fromMin, toMin }) => ({
      day,
      from: clockOf(fromMin),
      to: clockOf(toMin),
    })),
  };
}

function coverageFigures(one: LoopCoverage, { grid }: Plan) {
  const shares = (list: LoopCoverage["after"]) =>
    list.map(({ hours, share }) => ({ hours, share: rounded(share, 4) }));
  return {
    loop: one.loop,
    after: shares(one.after),
    with_guide: shares(one.withGuide),
    missed_m2: rounded(one.missed?.areaM2 ?? 0, 2),
    missed_at: one.missed ? positionOf(one.missed.atM, grid) : null,
    drives: one.drives,
    mean_drive_m: rounded(one.meanDriveM, 3),
  };
}

/** Lawn by hours of direct sun a day, in steps of so many. */
const SUN_STEP_H = 2;

function sunFigures({ map, ...season }: SiteSunFigures) {
  const cellM2 = map.cellM ** 2;
  const hours = map.hours.filter((value) => !Number.isNaN(value));
  const mostH = hours.reduce((most, value) => Math.max(most, value), 0);
  const leastH = hours.reduce((least, value) => Math.min(least, value), Infinity);
  const steps = Math.floor(mostH / SUN_STEP_H) + 1;
  const counts = Array.from({ length: steps }, () => 0);
  for (const value of hours) counts[Math.floor(value / SUN_STEP_H)]!++;
  return {
    zone: season.zone ?? null,
    from: season.from,
    to: season.to,
    hot_from: season.hotFrom,
    hot_to: season.hotTo,
    days: season.days,
    day_length_h: rounded(season.dayLengthH, 3),
    cell_m: lengthM(map.cellM),
    least_h: hours.length > 0 ? rounded(leastH, 2) : null,
    mean_h:
      hours.length > 0 ? rounded(hours.reduce((sum, h) => sum + h, 0) / hours.length, 2) : null,
    most_h: hours.length > 0 ? rounded(mostH, 2) : null,
    lawn: counts.map((count, i) => ({
      from_h: i * SUN_STEP_H,
      to_h: (i + 1) * SUN_STEP_H,
      area_m2: areaM2(count * cellM2),
    })),
  };
}

function signalFigures(signal: LoopSignal, { grid, loops }: Plan) {
  const wire = loops.find((loop) => loop.name === signal.loop)!.wire;
  return {
    loop: signal.loop,
    points: signal.points,
    wrong_signs: signal.wrongAtM.length,
    least_ut_per_a: rounded(signal.leastUtPerA, 4),
    least_at: positionOf(signal.leastAtM, grid),
    clash_share: rounded(signal.clashShare, 3),
    pair_residue_share: rounded(signal.pairResidueShare, 3),
    inductance_uh: rounded(inductanceUh(wire, CONDUCTOR_RADIUS_M), 0),
  };
}

/** Of a copper conductor of 1.0 mm²; its logarithm counts, so that other sections hardly differ. */
const CONDUCTOR_RADIUS_M = 0.000564;

function pricesOf({ currency, lines, net, taxRate, tax, total }: PricedTotal) {
  return {
    currency,
    items: lines.map(({ name, per, quantity, unitPrice, amount }) => ({
      name,
      per,
      quantity,
      unit_price: unitPrice,
      amount,
    })),
    net,
    tax_rate: taxRate,
    tax,
    total,
  };
}
