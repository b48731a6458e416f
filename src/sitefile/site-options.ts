/** A site file in the terms of the library, and together with what the command line says. */
import type { Finding } from "../model/finding.ts";
import type {
  HandOverOptions,
  Language,
  LengthUnit,
  ListName,
} from "../model/hand-over-options.ts";
import type { PartsChoice } from "../model/plan.ts";
import type { Role } from "../model/roles.ts";
import type { SheetRules } from "../model/sheet.ts";
import type {
  EdgeRule,
  FeatureRule,
  FieldTest,
  LawnChoice,
  RepairTolerances,
  RunGroundRule,
  SiteRules,
  Spot,
  SurveyCodeWords,
} from "../model/site-rules.ts";
import { SCHEDULE_DEFAULT } from "../model/site-rules.ts";
import type { HeightUnit } from "../model/terrain.ts";
import { parseCrsText } from "./crs-text.ts";
import type { SiteFile } from "./site-file.ts";

/** One input, with its system where that is stated in place of its own. */
export interface SiteFileInput {
  readonly file: string;
  readonly crs?: number | string;
}

/** A raster of heights, with its system and unit where they are stated in place of its own. */
export interface SiteFileTerrain extends SiteFileInput {
  readonly heightUnit?: HeightUnit | undefined;
}

/** What a site file says, in the terms of the library; paths as they stand in it. */
export interface SiteFileOptions {
  readonly name?: string | undefined;
  readonly inputs?:
    | readonly { readonly file: string; readonly crs?: number | string }[]
    | undefined;
  readonly out?: string | undefined;
  readonly crs?: number | string | undefined;
  readonly terrain?: SiteFileTerrain | undefined;
  readonly profile?: SiteFile["profile"];
  /** How the plan is to be drawn; undefined where no drawings are wanted. */
  readonly sheet?: SheetRules | undefined;
  /** Language, units and lists of the hand-over. */
  readonly handOver?: HandOverOptions | undefined;
  /** The picture to lie beneath the drawings. */
  readonly image?: SiteFileInput | undefined;
  readonly rules: SiteRules;
  readonly json?: boolean | undefined;
  readonly quiet?: boolean | undefined;
}

/**
 * The options that a checked site file stands for.
 *
 * @param file its name, for messages
 */
export function optionsOfSiteFile(said: SiteFile, file: string): SiteFileOptions {
  const { name, inputs, out, crs, terrain, profile, sheet, json, quiet } = said;
  return {
    name,
    inputs: inputs?.map((one) =>
      typeof one === "string" ? { file: one } : { file: one.file, ...withCrs(one.crs) },
    ),
    out,
    ...withCrs(crs),
    terrain: terrain === undefined ? undefined : terrainOf(terrain),
    profile,
    sheet: sheet && sheetOf(sheet),
    handOver: { language: said.language, units: said.units, lists: said.lists },
    image: sheet?.image === undefined ? undefined : imageOf(sheet.image),
    rules: rulesOf(said, file),
    json,
    quiet,
  };
}

function terrainOf(said: NonNullable<SiteFile["terrain"]>): SiteFileTerrain {
  if (typeof said === "string") return { file: said };
  return { file: said.file, ...withCrs(said.crs), heightUnit: said.height_unit };
}

function imageOf(said: NonNullable<NonNullable<SiteFile["sheet"]>["image"]>): SiteFileInput {
  return typeof said === "string" ? { file: said } : { file: said.file, ...withCrs(said.crs) };
}

function sheetOf(said: NonNullable<SiteFile["sheet"]>): SheetRules {
  const { paper, scale, image: _, drawing_number: number, drawn_by, checked_by, ...title } = said;
  return {
    paper,
    scale,
    title: { ...title, number, drawnBy: drawn_by, checkedBy: checked_by },
  };
}

function withCrs(crs: string | number | undefined): { crs?: number | string } {
  const parsed = crs === undefined ? undefined : parseCrsText(crs);
  return parsed === undefined ? {} : { crs: parsed };
}

function rulesOf(said: SiteFile, file: string): SiteRules {
  const {
    lawns,
    roles,
    edges,
    station,
    outlet,
    setin_m,
    repair,
    prices,
    schedule,
    survey_codes,
    sun,
  } = said;
  return {
    file,
    rules: roles?.map(({ layer, geometry, role, set, ...test }) => ({
      layer,
      geometry,
      role,
      set: withoutNothing(set ?? {}),
      test: testOf(test),
    })),
    features: said.features?.map(featureOf),
    things: said.things?.map(({ set, crs, ...rest }) => ({
      ...rest,
      ...withCrs(crs),
      set: withoutNothing(set ?? {}),
    })),
    edges: edges?.map(edgeOf),
    runGround: said.run_ground?.map(groundOf),
    lawns: lawns === undefined ? undefined : choiceOf(lawns),
    stations: station && spotsOf(station),
    outlets: outlet && spotsOf(outlet),
    setins: setin_m && {
      roles: withoutNothing(setin_m.roles ?? {}),
      edges: withoutNothing(setin_m.edges ?? {}),
      things: setin_m.things,
    },
    repair: repair && tolerancesOf(repair),
    surveyCodes: survey_codes && wordsOf(survey_codes),
    plan: {
      ...(said.lawn_per_wire_m2 === undefined ? {} : { lawnPerWireM2: said.lawn_per_wire_m2 }),
      ...(said.split === undefined ? {} : { split: said.split }),
      ...(said.loads_within === undefined ? {} : { loadsWithin: said.loads_within }),
      ...(said.parts === undefined ? {} : { parts: said.parts }),
    },
    schedule: schedule && {
      from: schedule.from ?? SCHEDULE_DEFAULT.from,
      to: schedule.to ?? SCHEDULE_DEFAULT.to,
      days: schedule.days ?? SCHEDULE_DEFAULT.days,
      quiet: schedule.quiet ?? [],
      start: schedule.start,
    },
    sun: sun && {
      zone: sun.zone,
      from: sun.from,
      to: sun.to,
      hotFrom: sun.hot_from,
      hotTo: sun.hot_to,
    },
    steep: said.steep,
    prices: prices && {
      currency: prices.currency,
      taxRate: prices.tax_rate ?? 0,
      items: prices.items.map(({ name, per, unit_price, reel_m: reelM }) => ({
        name,
        per,
        unitPrice: unit_price,
        ...(reelM === undefined ? {} : { reelM }),
      })),
    },
  };
}

/** Without keys whose value is undefined. */
function withoutNothing<V>(map: Readonly<Record<string, V | undefined>>): Record<string, V> {
  return Object.fromEntries(
    Object.entries(map).filter((entry): entry is [string, V] => entry[1] !== undefined),
  );
}

interface TestKeys {
  readonly field?: string | undefined;
  readonly is?: string | number | boolean | readonly (string | number | boolean)[] | undefined;
  readonly at_least?: number | undefined;
  readonly at_most?: number | undefined;
}

function testOf({ field, is, at_least, at_most }: TestKeys): FieldTest | undefined {
  if (field === undefined) return undefined;
  const values = is === undefined ? undefined : typeof is === "object" ? is : [is];
  return { field, is: values, atLeast: at_least, atMost: at_most };
}

function featureOf(said: NonNullable<SiteFile["features"]>[number]): FeatureRule {
  const { id, set, move_m: moveM, crs, ...rest } = said;
  return {
    ...rest,
    ...withCrs(crs),
    ...(id !== undefined && { id: String(id) }),
    ...(set && { set: withoutNothing(set) }),
    ...(moveM && { moveM }),
  };
}

function edgeOf(rule: NonNullable<SiteFile["edges"]>[number]): EdgeRule {
  const { layer, line, beside, edge, setin_m: setinM } = rule;
  if (line !== undefined) return { line, edge, setinM, ...withCrs(rule.crs) };
  return beside !== undefined ? { beside, edge } : { layer: layer ?? "", edge, setinM };
}

function groundOf(rule: NonNullable<SiteFile["run_ground"]>[number]): RunGroundRule {
  const { layer, area, name, wire, run_cost: runCost, slope_percent: slopePercent } = rule;
  const said = { name, wire, runCost, slopePercent };
  return area !== undefined
    ? { area, ...said, ...withCrs(rule.crs) }
    : { layer: layer ?? "", ...said };
}

/** `all` takes back what a site file would choose. */
function choiceOf(lawns: NonNullable<SiteFile["lawns"]>): LawnChoice | undefined {
  if (lawns === "all") return undefined;
  if (Array.isArray(lawns)) return { names: lawns };
  const { names, least_area_m2, inside, nearest, ...test } = lawns;
  return {
    names,
    test: testOf(test),
    leastAreaM2: least_area_m2,
    inside: inside as LawnChoice["inside"],
    nearest: nearest && { at: nearest.at, count: nearest.count, ...withCrs(nearest.crs) },
  };
}

function spotsOf(given: NonNullable<SiteFile["station"]>): Spot[] {
  const list = Array.isArray(given) ? given : [given];
  return list.map(({ name, at, crs }) => ({ name, at, ...withCrs(crs) }));
}

function tolerancesOf(repair: NonNullable<SiteFile["repair"]>): Partial<RepairTolerances> {
  return withoutNothing({
    joinGapM: repair.join_gap_m,
    spikeWidthM: repair.spike_width_m,
    sliverWidthM: repair.sliver_width_m,
    overhangM: repair.overhang_m,
    sameShare: repair.same_share,
    lineGapM: repair.line_gap_m,
    farM: repair.far_m,
    chordM: repair.chord_tolerance_m,
  });
}

function wordsOf(said: NonNullable<SiteFile["survey_codes"]>): SurveyCodeWords {
  const { arc_start: arcStart, arc_end: arcEnd, ...same } = said;
  const lists = withoutNothing({ ...same, arcStart, arcEnd });
  return Object.fromEntries(
    Object.entries(lists).map(([list, words]) => [list, words.map((word) => word.toLowerCase())]),
  );
}

/** What the command line says; all may be left out. */
export interface CommandLineOptions {
  readonly inputs?: readonly string[];
  readonly out?: string | undefined;
  readonly crs?: number | string | undefined;
  /** A raster of heights. */
  readonly terrain?: string | undefined;
  /** Paper and scale of drawings; what is undefined in it is not said. */
  readonly sheet?: Pick<SheetRules, "paper" | "scale"> | undefined;
  /** A picture to lie beneath the drawings. */
  readonly image?: string | undefined;
  readonly profile?: string | undefined;
  readonly roles?: Readonly<Record<string, Role>> | undefined;
  readonly lawns?: readonly string[] | undefined;
  /** Whether the sun is computed, and the zone of clock times. */
  readonly sun?: boolean | undefined;
  readonly zone?: string | undefined;
  /** False: one loop for each part. */
  readonly split?: boolean | undefined;
  /** What becomes of parts that the machine cannot drive to. */
  readonly parts?: PartsChoice | undefined;
  readonly language?: Language | undefined;
  readonly units?: LengthUnit | undefined;
  readonly lists?: readonly ListName[] | undefined;
  readonly json?: boolean | undefined;
  readonly quiet?: boolean | undefined;
}

export interface MergedOptions extends SiteFileOptions {
  /** Roles by layer of the command line; they come before the rules of the file. */
  readonly roles?: Readonly<Record<string, Role>> | undefined;
}

/**
 * A site file with the command line on top: what is said in both is taken from the command line,
 * and a finding (`SITE_FILE_OVERRIDDEN`) says so.
 */
export function mergeOptions(
  file: SiteFileOptions,
  line: CommandLineOptions,
): { options: MergedOptions; findings: Finding[] } {
  const overridden: string[] = [];
  const take = <T>(option: string, key: string, mine: T | undefined, theirs: T | undefined) => {
    if (mine === undefined) return theirs;
    if (theirs !== undefined) overridden.push(`${option} in place of ${key}`);
    return mine;
  };
  const named = line.inputs && line.inputs.length > 0 ? line.inputs : undefined;
  const inputs = take(
    "the inputs named",
    "inputs",
    named?.map((one): SiteFileInput => ({ file: one })),
    file.inputs,
  );
  const names = line.lawns && line.lawns.length > 0 ? line.lawns : undefined;
  const choice: LawnChoice | undefined = names && (names.includes("all") ? {} : { names });
  const rulesByLayer = file.rules.rules?.some((rule) => rule.layer !== undefined) ?? false;
  if (line.roles && rulesByLayer) overridden.push("--role before roles");
  const crs = take("--crs", "crs", line.crs, file.crs);
  const ownCrs = line.crs !== undefined && inputs?.some((one) => one.crs !== undefined) === true;
  if (ownCrs) overridden.push("--crs in place of the crs of inputs");
  const split = take("--no-split", "split", line.split, file.rules.plan?.split);
  const parts = take("--parts", "parts", line.parts, file.rules.plan?.parts);
  const paper = take("--sheet", "sheet.paper", line.sheet?.paper, file.sheet?.paper);
  const scale = take("--scale", "sheet.scale", line.sheet?.scale, file.sheet?.scale);
  const isDrawn = line.sheet !== undefined || file.sheet !== undefined;
  const zone = take("--zone", "sun.zone", line.zone, file.rules.sun?.zone);
  const isSun = line.sun === true || line.zone !== undefined || file.rules.sun !== undefined;
  const options: MergedOptions = {
    ...file,
    image: take(
      "--image",
      "sheet.image",
      line.image === undefined ? undefined : { file: line.image },
      file.image,
    ),
    sheet: isDrawn ? { ...file.sheet, paper, scale } : undefined,
    inputs: ownCrs ? inputs?.map((one) => ({ file: one.file })) : inputs,
    crs,
    out: take("--out", "out", line.out, file.out),
    terrain: take(
      "--terrain",
      "terrain",
      line.terrain === undefined ? undefined : { file: line.terrain },
      file.terrain,
    ),
    profile: take<SiteFile["profile"]>("--profile", "profile", line.profile, file.profile),
    handOver: {
      language: take("--language", "language", line.language, file.handOver?.language),
      units: take("--units", "units", line.units, file.handOver?.units),
      lists: take("--lists", "lists", line.lists, file.handOver?.lists),
    },
    roles: line.roles,
    rules: {
      ...file.rules,
      lawns: take("--lawn", "lawns", choice, file.rules.lawns),
      ...(isSun && { sun: { ...file.rules.sun, ...(zone === undefined ? {} : { zone }) } }),
      plan: {
        ...file.rules.plan,
        ...(split === undefined ? {} : { split }),
        ...(parts === undefined ? {} : { parts }),
      },
    },
    json: take("--json", "json", line.json, file.json),
    quiet: take("--quiet", "quiet", line.quiet, file.quiet),
  };
  if (overridden.length === 0) return { options, findings: [] };
  const finding: Finding = {
    code: "SITE_FILE_OVERRIDDEN",
    severity: "info",
    ...(file.rules.file === undefined ? {} : { file: file.rules.file }),
    message: `The command line wins over the site file: ${overridden.join("; ")}.`,
    remedy: "Nothing to do, if that is what you meant.",
  };
  return { options, findings: [finding] };
}
