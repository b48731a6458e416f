/** The whole way from files to a plan, step by step. Pure: bytes in, values out. */

import { checkPlan, type Verdict } from "../check/check-plan.ts";
import { statedOfLayers } from "../check/stated/from-layers.ts";
import { statedOfPlan } from "../check/stated/from-plan.ts";
import { outOfReach } from "../check/stated/reach.ts";
import { crsForPlan } from "../crs/plan-crs.ts";
import type { EpsgRegistry } from "../crs/registry.ts";
import { toSiteGrid } from "../crs/to-site-grid.ts";
import type { PlanResult } from "../export/plan-result.ts";
import { loadEngine } from "../geometry/engine.ts";
import { ringLengthM } from "../geometry/rings.ts";
import { cautionsFor } from "../handover/cautions.ts";
import { materialsFindings } from "../handover/materials/findings.ts";
import { pricedTotal } from "../handover/prices.ts";
import { quantitiesOf } from "../handover/quantities.ts";
import { scheduleFindings, scheduleOf } from "../handover/schedule/schedule.ts";
import { withPlanFeatures } from "../import/plan-features.ts";
import { readInputs } from "../import/read-inputs.ts";
import { type ReadProgress, stemOf } from "../import/reader.ts";
import type { GridLayer, InputFile, RawLayer } from "../model/features.ts";
import { done, type Finding, failed, type Outcome, type Problem } from "../model/finding.ts";
import type { Plan } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import type { Role } from "../model/roles.ts";
import { withShortQuotes } from "../model/short-quotes.ts";
import type { Site, SiteGrid } from "../model/site.ts";
import { REPAIR_TOLERANCES, type SiteRules } from "../model/site-rules.ts";
import { coverageOf } from "../physics/coverage/coverage.ts";
import { signalFindings } from "../physics/signal/findings.ts";
import { signalOf } from "../physics/signal/signal.ts";
import { signalMap } from "../physics/signal/signal-map.ts";
import { planSite } from "../plan/plan-site.ts";
import { builtInProfile } from "../profile/built-in.ts";
import { buildSite, rulingsOf, type SiteInput } from "../site/build-site.ts";
import { changeFeatures, drawnLayer } from "../site/changed-features.ts";
import { type LayerRoles, layerRoles } from "../site/layer-roles.ts";
import { noteBook } from "../site/notes.ts";
import { extentM, type InspectedInput, inspectLayers } from "./inspection.ts";
import { placeRules } from "./place-rules.ts";
import type { SiteHeights, TerrainInput } from "./site-heights.ts";
import type { SiteSun } from "./site-sun.ts";

/** What may be said beside the inputs. All may be left out. */
export interface InputOptions {
  /** Name of the site; the first input's name where left out. */
  readonly name?: string | undefined;
  /** EPSG code, PROJ string or WKT of inputs that do not state a reference system. */
  readonly crs?: number | string | undefined;
  /** The same for single inputs, by name, in place of what they state. */
  readonly crsByFile?: Readonly<Record<string, number | string>> | undefined;
  /** Role of all features of a layer, by layer name. */
  readonly roles?: Readonly<Record<string, Role>> | undefined;
  /** What else the user says of the site, as in a site file. */
  readonly rules?: SiteRules | undefined;
  /** Called now and then while long inputs are read. */
  readonly onProgress?: ((progress: ReadProgress) => void) | undefined;
  /** Looks up EPSG codes other than 4326, e.g. in the package `epsg-index`; none where left out. */
  readonly registry?: EpsgRegistry | undefined;
}

export interface PlanOptions extends InputOptions {
  /** The machine; the built-in medium one where left out. */
  readonly profile?: Profile | undefined;
  /** Whether the signal of the finished wire is computed, too. */
  readonly signal?: boolean | undefined;
  /** Whether the machine at work is simulated, too. */
  readonly coverage?: boolean | undefined;
  /** Heights of the ground; lengths are flat where left out. */
  readonly terrain?: TerrainInput | undefined;
}

/**
 * Plans a site from its files: read, reproject, understand, plan, count.
 *
 * @param inputs bytes and names of the files that together make the site; a `.shp` with its parts
 * @returns the plan with quantities, cautions and the findings of every step, or the problem that
 *   stopped it. Kinds of problem: `input` (unreadable or unusable), `usage` (options that do not fit)
 */
export async function planInputs(
  inputs: readonly InputFile[],
  options: PlanOptions = {},
): Promise<Outcome<PlanResult>> {
  const placed = await readPlaced(inputs, options);
  return placed.ok ? planPlaced(placed.value, options) : placed;
}

/** What was read of the inputs, in the site grid: the same whatever is said of it afterwards. */
export interface PlacedInputs {
  readonly layers: readonly GridLayer[];
  readonly grid: SiteGrid;
  /** Name of the site where nothing else gives one. */
  readonly name: string;
  readonly findings: readonly Finding[];
}

/**
 * The first half of `planInputs`: reads the inputs and brings them to the site grid. Of the options
 * only those of reading matter (`crs`, `crsByFile`, `registry`, `rules.surveyCodes`,
 * `rules.repair.chordM`): where they stay, this may be kept and planned from many times.
 */
export async function readPlaced(
  inputs: readonly InputFile[],
  options: PlanOptions = {},
): Promise<Outcome<PlacedInputs>> {
  await loadEngine();
  const read = await readInputs(inputs, readOptions(options));
  if (!read.ok) return read;
  const placed = toSiteGrid(read.value, crsOptions(options));
  const findings = [...read.findings, ...placed.findings];
  if (!placed.ok) return failed(placed.problem, findings);
  const { layers, grid } = placed.value;
  return done({ layers, grid, name: nameOf(inputs), findings }, findings);
}

/** The second half of `planInputs`: the same plan, to the last bit. */
export function planPlaced(
  placed: PlacedInputs,
  options: PlanOptions = {},
): Promise<Outcome<PlanResult>> {
  return planRead(siteOfPlaced(placed, options), options);
}

function siteOfPlaced(placed: PlacedInputs, options: PlanOptions): Outcome<Site> {
  const { name = placed.name } = options;
  const parts = siteParts(undefined, placed, { ...options, name });
  const findings = [...placed.findings, ...parts.findings];
  if (!parts.ok) return failed(parts.problem, findings);
  const built = buildSite(parts.value);
  return { ...built, findings: distinct([...findings, ...built.findings]) };
}

/**
 * The same from layers that have been read already, e.g. those of one plot among many.
 *
 * @param layers in source coordinates, as `readInputs` gives them
 */
export async function planLayers(
  layers: readonly RawLayer[],
  options: PlanOptions = {},
): Promise<Outcome<PlanResult>> {
  await loadEngine();
  return planRead(siteOfLayers(layers, options), options);
}

/** From the site as it was read to the plan. */
async function planRead(read: Outcome<Site>, options: PlanOptions): Promise<Outcome<PlanResult>> {
  const ready = await readyToPlan(read, options);
  return ready.ok ? planReady(ready.value, ready.findings, options) : ready;
}

/** A site as it was read with what is known of its ground and its sky: all that planning asks for. */
export async function readyToPlan(
  read: Outcome<Site>,
  options: PlanOptions,
): Promise<Outcome<SiteKnown>> {
  if (!read.ok) return read;
  const edgeM = lawnEdgeM(read.value);
  if (edgeM > LAWN_EDGE_MAX_M) return failed(tooLarge(read.value, edgeM), read.findings);
  const known = await siteKnown(read.value, options);
  const findings = distinct([...read.findings, ...known.findings]);
  return known.ok ? done(known.value, findings) : failed(known.problem, findings);
}

/**
 * Plans a site that is ready; it may be planned several times, with other options.
 *
 * @param before findings of reading it
 */
export async function planReady(
  { site, heights, sun }: SiteKnown,
  before: readonly Finding[],
  options: PlanOptions,
): Promise<Outcome<PlanResult>> {
  const planned = planSite(site, machineOf(options), options.rules?.plan, {
    heightAt: heights?.heightAt,
    sunAt: sun?.sunAt,
  });
  const findings = distinct([...before, ...planned.findings]);
  if (!planned.ok) return failed(planned.problem, findings);
  const plan = planned.value;
  const check = checkPlan(site, machineOf(options), statedOfPlan(plan));
  const terrain = await terrainUnder(plan, heights);
  const ground = terrain?.ground;
  const quantities = quantitiesOf(plan, ground, site.outlets);
  const signal = options.signal ? signalOf(plan) : undefined;
  const drawnSignal = options.signal ? signalMap(plan) : undefined;
  const coverage = options.coverage ? coverageOf(plan) : undefined;
  const rules = options.rules?.schedule;
  const list = options.rules?.prices;
  const schedule = scheduleOf(plan, rules, ground);
  const all = distinct([
    ...findings,
    ...plan.findings,
    ...check.findings,
    ...(terrain?.findings ?? []),
    ...signalFindings(signal ?? []),
    ...scheduleFindings(schedule, rules),
    ...materialsFindings(quantities, list).map((one) => placed(one, site.grid)),
  ]);
  const prices = list && pricedTotal(plan, quantities, list);
  const cautions = cautionsFor(site, plan, quantities, ground);
  const season = rules?.start;
  return done(
    {
      site,
      plan,
      ground,
      quantities,
      cautions,
      prices,
      priceList: list,
      signal,
      signalMap: drawnSignal,
      sun: sun?.figures(),
      coverage,
      schedule,
      season,
      check,
      findings: all,
    },
    all,
  );
}

/** A finding with its place in degrees, too. */
const placed = (one: Finding, grid: SiteGrid): Finding =>
  one.atM ? { ...one, at: grid.inverse(one.atM) } : one;

/** A site with what is known of its ground and its sky. */
export interface SiteKnown {
  readonly site: Site;
  readonly heights: SiteHeights | undefined;
  readonly sun: SiteSun | undefined;
}

/** Heights, ground that is too steep, and sun, where asked for; their code is loaded only then. */
async function siteKnown(read: Site, options: PlanOptions): Promise<Outcome<SiteKnown>> {
  const { terrain, crs, rules, registry = NO_REGISTRY } = options;
  const wantsSun = rules?.sun !== undefined;
  let site = read;
  let heights: SiteHeights | undefined;
  const findings: Finding[] = [];
  if (terrain !== undefined || site.spotHeights !== undefined) {
    const { heightsOfSite, SHADE_BEYOND_M } = await import("./site-heights.ts");
    const beyondM = wantsSun ? SHADE_BEYOND_M : undefined;
    const found = await heightsOfSite(terrain, site, crs, registry, beyondM);
    findings.push(...found.findings);
    if (!found.ok) return failed(found.problem, findings);
    heights = found.value;
  }
  if (heights && rules?.steep === "shut") {
    const { withSteepShut } = await import("./site-steep.ts");
    const shut = withSteepShut(site, heights.lattice, machineOf(options));
    site = shut.site;
    findings.push(...shut.findings);
  }
  if (rules?.sun === undefined) return done({ site, heights, sun: undefined }, findings);
  const { sunOfSite } = await import("./site-sun.ts");
  const sun = sunOfSite(read, rules.sun, heights);
  findings.push(...sun.findings);
  if (!sun.ok) return failed(sun.problem, findings);
  return done({ site, heights, sun: sun.value }, findings);
}

/** A check asks nothing of the sun. */
function withoutSun(options: PlanOptions): PlanOptions {
  return { ...options, rules: { ...options.rules, sun: undefined } };
}

/** The plan on the ground. */
async function terrainUnder(plan: Plan, heights: SiteHeights | undefined) {
  if (!heights) return undefined;
  const { terrainOfPlan } = await import("./plan-terrain.ts");
  return terrainOfPlan(plan, heights.lattice);
}

/** A wire measured against a site, and what was noticed on the way. */
export interface Checked extends Verdict {
  readonly grid: SiteGrid;
  readonly profile: Profile;
}

/**
 * Judges a wire from anywhere against the site that it is for.
 *
 * @param plan the file with the wire: a plan.geojson of ours, or any format with a line
 * @param inputs the files of the site, as for `planInputs`
 * @returns the verdict, its `findings` with those of reading; or the problem that stopped it
 */
export async function checkInputs(
  plan: InputFile,
  inputs: readonly InputFile[],
  options: PlanOptions = {},
): Promise<Outcome<Checked>> {
  const read = await readSite(inputs, options);
  if (!read.ok) return read;
  const { grid } = read.value;
  const layers = await readInputs([plan], readOptions(options));
  if (!layers.ok) return failed(layers.problem, [...read.findings, ...layers.findings]);
  const planLayers = withPlanFeatures(layers.value);
  const crs = crsForPlan(planLayers, options.crs);
  const placed = toSiteGrid(planLayers, { ...crsOptions({ ...options, crs }), grid });
  const noticed = [...read.findings, ...layers.findings, ...placed.findings];
  if (!placed.ok) return failed(placed.problem, noticed);
  const stated = statedOfLayers(placed.value.layers);
  if (!stated.ok) return failed(stated.problem, noticed);
  const elsewhere = outOfReach(stated.value, read.value, plan.name);
  if (elsewhere !== undefined) return failed(elsewhere, noticed);
  const profile = machineOf(options);
  const isShut = options.rules?.steep === "shut";
  const known = isShut ? await siteKnown(read.value, withoutSun(options)) : undefined;
  if (known && !known.ok) return failed(known.problem, [...noticed, ...known.findings]);
  const site = known?.value.site ?? read.value;
  const verdict = checkPlan(site, profile, stated.value);
  const findings = distinct([
    ...noticed,
    ...(known?.findings ?? []),
    ...stated.findings,
    ...verdict.findings,
  ]);
  return done({ ...verdict, findings, grid, profile }, findings);
}

/** More lawn edge than this is no site that anyone mows, but a wrong reference system, metres. */
const LAWN_EDGE_MAX_M = 500_000;

function lawnEdgeM(site: Site): number {
  return site.lawns.reduce((sum, { area }) => sum + ringLengthM(area.shell), 0);
}

function tooLarge(site: Site, edgeM: number): Problem {
  return {
    code: "SITE_TOO_LARGE",
    kind: "input",
    ...site.lawns[0]?.source,
    message: `The lawns have ${(edgeM / 1000).toFixed(0)} km of edge together; at most ${LAWN_EDGE_MAX_M / 1000} km are planned.`,
    remedy:
      "Check the reference system and units of the input with `pegline inspect`; plan a large estate in pieces.",
  };
}

/** Reads a site from its files, up to the point where planning begins. See `planInputs`. */
export async function readSite(
  inputs: readonly InputFile[],
  options: PlanOptions = {},
): Promise<Outcome<Site>> {
  const placed = await readPlaced(inputs, options);
  return placed.ok ? siteOfPlaced(placed.value, options) : placed;
}

function siteOfLayers(layers: readonly RawLayer[], options: PlanOptions): Outcome<Site> {
  const placed = placeLayers(layers, options);
  if (!placed.ok) return placed;
  const built = buildSite(placed.value);
  return { ...built, findings: distinct([...placed.findings, ...built.findings]) };
}

/** Layers in the site grid, with all that is ruled of them: what a site is built from. */
export function placeLayers(
  layers: readonly RawLayer[],
  options: PlanOptions = {},
): Outcome<SiteInput> {
  const placed = toSiteGrid(layers, crsOptions(options));
  if (!placed.ok) return placed;
  const parts = siteParts(layers[0]?.file, placed.value, options);
  const findings = [...placed.findings, ...parts.findings];
  return parts.ok ? done(parts.value, findings) : failed(parts.problem, findings);
}

const nameOf = (inputs: readonly InputFile[]) => (inputs[0] ? stemOf(inputs[0].name) : "site");

export function readOptions({ onProgress, rules }: InputOptions) {
  return {
    onProgress,
    surveyCodes: rules?.surveyCodes,
    chordToleranceM: rules?.repair?.chordM,
  };
}

function crsOptions({ crs, crsByFile, registry }: InputOptions) {
  return {
    ...(crs === undefined ? {} : { crsOverride: crs }),
    ...(crsByFile === undefined ? {} : { crsByFile }),
    registry: registry ?? NO_REGISTRY,
  };
}

const NO_REGISTRY: EpsgRegistry = () => undefined;

/** The machine, with the set-ins by edge kind that the user rules for this site. */
function machineOf({ profile, rules }: PlanOptions): Profile {
  const machine = profile ?? builtInProfile();
  const edges = rules?.setins?.edges;
  return edges ? { ...machine, setinM: { ...machine.setinM, ...edges } } : machine;
}

function siteParts(
  firstFile: string | undefined,
  { layers, grid }: Pick<PlacedInputs, "layers" | "grid">,
  options: PlanOptions,
): Outcome<SiteInput> {
  const { name, roles, rules = {}, crs, registry = NO_REGISTRY } = options;
  const placed = placeRules(rules, grid, crs, registry);
  if (!placed.ok) return placed;
  const { features, things, ...ruled } = placed.value;
  const { note, findings } = noteBook(grid);
  const drawn = drawnLayer(things, rules.file ?? "site file");
  const parts: SiteInput = {
    ...ruled,
    name: name ?? (firstFile === undefined ? "site" : stemOf(firstFile)),
    layers: [...changeFeatures(layers, features, note), ...(drawn ? [drawn] : [])],
    grid,
    profile: machineOf(options),
    withShade: rules.sun !== undefined,
    roleRules: roles,
    tolerances: { ...REPAIR_TOLERANCES, ...rules.repair },
  };
  return done(parts, findings);
}

/** Findings once each: a step may pass on those of an earlier one; long names in them shortened. */
function distinct(findings: readonly Finding[]): Finding[] {
  return [...new Set(findings)].map(withShortQuotes);
}

/** What `inspectInputs` found. */
export interface Inspection {
  readonly inputs: readonly InspectedInput[];
  /** Width and height of everything, metres; null where nothing has a place on earth. */
  readonly extentM: readonly [number, number] | null;
  /** What the features of each layer are, and what says so; empty where nothing has a place. */
  readonly layerRoles: readonly (LayerRoles & { readonly file: string; readonly layer: string })[];
  /** The site grid, where the reference systems are known. */
  readonly grid?: SiteGrid;
  readonly findings: readonly Finding[];
}

/**
 * Says what is in the files of a site: layers, reference systems, roles, repairs, what is missing.
 *
 * A site that could not be planned is no failure here: what stands in the way is a finding of
 * severity `error`. Only a file that cannot be read is a problem.
 */
export async function inspectInputs(
  inputs: readonly InputFile[],
  options: PlanOptions = {},
): Promise<Outcome<Inspection>> {
  await loadEngine();
  const read = await readInputs(inputs, readOptions(options));
  if (!read.ok) return read;
  const layers = read.value;
  const placed = toSiteGrid(layers, crsOptions(options));
  const findings = [...read.findings, ...placed.findings];
  if (!placed.ok) {
    const all = distinct([...findings, asFinding(placed.problem)]);
    return done({
      inputs: inspectLayers(layers, undefined, undefined),
      extentM: null,
      layerRoles: [],
      findings: all,
    });
  }
  const { grid } = placed.value;
  const parts = siteParts(inputs[0]?.name, placed.value, options);
  if (!parts.ok) return failed(parts.problem, findings);
  const built = buildSite(parts.value);
  const all = distinct([
    ...findings,
    ...parts.findings,
    ...built.findings,
    ...(built.ok ? [] : [asFinding(built.problem)]),
  ]);
  const roles = layerRoles(parts.value.layers, rulingsOf(parts.value), parts.value.tolerances);
  return done({
    inputs: inspectLayers(layers, placed.value.layers, roles),
    extentM: extentM(placed.value.layers),
    layerRoles: placed.value.layers.map(({ file, layer }, i) => ({ file, layer, ...roles[i]! })),
    grid,
    findings: all,
  });
}

function asFinding({ kind: _, line: __, path: ___, ...problem }: Problem): Finding {
  return { ...problem, severity: "error" };
}
