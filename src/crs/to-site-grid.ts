import type { CrsDeclaration, GridLayer, RawLayer } from "../model/features.ts";
import { done, type Finding, failed, type Outcome, type Problem } from "../model/finding.ts";
import type { LonLat } from "../model/geometry.ts";
import type { SiteGrid } from "../model/site.ts";
import { chooseDeclarations, type RangedLayer } from "./choose.ts";
import { mapGeometry } from "./convert.ts";
import { interpret } from "./interpret.ts";
import { isNear } from "./place.ts";
import { countTiles, inGrid, placeFeatures, type Resolved } from "./place-features.ts";
import {
  fitsDegrees,
  missingCrsProblem,
  notDegreesProblem,
  type RawRange,
  rangeOf,
} from "./plausible.ts";
import type { EpsgRegistry } from "./registry.ts";
import { resolveCrs } from "./resolve.ts";
import { extentOf, type LonLatExtent, makeSiteGrid } from "./site-grid.ts";
import type { SourceCrs } from "./source-crs.ts";
import { type PlacedFeature, spreadFindings } from "./spread.ts";

export interface SiteGridOptions {
  /** `--crs`: an EPSG code, `EPSG:N`, a PROJ string or WKT. */
  readonly crsOverride?: number | string;
  /** The same for single files, by name; it comes before `crsOverride`. */
  readonly crsByFile?: Readonly<Record<string, number | string>>;
  readonly registry: EpsgRegistry;
  /** A grid to use rather than one of the site's own, e.g. that of a plan to be checked. */
  readonly grid?: SiteGrid;
}

export interface GriddedSite {
  readonly layers: GridLayer[];
  readonly grid: SiteGrid;
}

/** Resolves each distinct declaration once; its findings name the first layer that has it. */
class Resolver {
  readonly #known = new Map<string, Outcome<SourceCrs>>();
  readonly findings: Finding[] = [];
  readonly #registry: EpsgRegistry;

  constructor(registry: EpsgRegistry) {
    this.#registry = registry;
  }

  resolve(declaration: CrsDeclaration, layer: RawLayer, range?: RawRange): Outcome<SourceCrs> {
    const key = JSON.stringify({ ...declaration, from: "" });
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const at = range && ([(range.minX + range.maxX) / 2, (range.minY + range.maxY) / 2] as const);
    const outcome = resolveCrs(declaration, this.#registry, at);
    for (const finding of outcome.findings) {
      this.findings.push({ file: layer.file, layer: layer.layer, ...finding });
    }
    this.#known.set(key, outcome);
    return outcome;
  }
}

function fromOf(declaration: CrsDeclaration): string {
  return declaration.kind === "none" ? "nothing" : declaration.from;
}

/** The CRS of one layer, or why its coordinates cannot be used. */
function resolveLayer(
  { layer, range }: RangedLayer,
  declaration: CrsDeclaration,
  resolver: Resolver,
): Resolved | Problem | undefined {
  if (range === undefined) {
    // Nothing to convert: any CRS will do, and a missing one is no problem.
    const outcome = resolver.resolve({ kind: "wgs84", from: "no coordinates" }, layer);
    return outcome.ok
      ? { layer, crs: { ...outcome.value, name: "none" }, from: fromOf(declaration) }
      : undefined;
  }
  if (declaration.kind === "none") return missingCrsProblem(layer, range);
  const outcome = resolver.resolve(declaration, layer, range);
  if (!outcome.ok) return { file: layer.file, layer: layer.layer, ...outcome.problem };
  if (outcome.value.isDegrees && !fitsDegrees(range)) {
    return notDegreesProblem(layer, range, outcome.value.name);
  }
  const crs = outcome.value;
  const { factor, swapped, finding } = interpret(layer, range, crs);
  if (finding !== undefined) resolver.findings.push(finding);
  return { layer: reread(layer, factor, swapped), crs, from: fromOf(declaration) };
}

/** The layer with its numbers scaled and turned round; heights in metres where the file has a unit. */
function reread(layer: RawLayer, factor: number, swapped: boolean): RawLayer {
  const heightM = layer.unitM ?? 1;
  if (factor === 1 && !swapped && heightM === 1) return layer;
  const change = (x: number, y: number): readonly [number, number] =>
    swapped ? [y * factor, x * factor] : [x * factor, y * factor];
  const features = layer.features.map((feature) => {
    const { geometry } = feature;
    return geometry === null
      ? feature
      : { ...feature, geometry: mapGeometry(geometry, change, heightM) };
  });
  return { ...layer, features };
}

function isProblem(value: Resolved | Problem): value is Problem {
  return "code" in value;
}

/** Corners of all features, for the extent of the site. */
function* corners(placed: readonly PlacedFeature[]): Generator<LonLat> {
  for (const { extent } of placed) {
    yield [extent.west, extent.south];
    yield [extent.east, extent.north];
  }
}

/** Layers outside their CRS's area of use by more than a degree: most likely the wrong CRS. */
function outsideFindings(
  resolved: readonly Resolved[],
  placed: readonly PlacedFeature[],
): Finding[] {
  const findings: Finding[] = [];
  for (const { layer, crs } of resolved) {
    const area = crs.areaOfUse;
    if (area === undefined) continue;
    const outside = placed.find(
      ({ layer: owner, extent }) => owner === layer && isOutside(extent, area),
    );
    if (outside === undefined) continue;
    findings.push({
      code: "CRS_OUTSIDE_AREA",
      severity: "warning",
      file: layer.file,
      layer: layer.layer,
      feature: `#${outside.number}`,
      at: [outside.extent.west, outside.extent.south],
      message: `feature ${outside.number} lies at ${outside.extent.west.toFixed(4)}, ${outside.extent.south.toFixed(4)} degrees, far outside the area for which ${crs.name} is made: it may be the wrong system`,
      remedy: "Check the .prj or --crs.",
    });
  }
  return findings;
}

/** Whether no corner of a feature lies near the area. */
function isOutside({ west, south, east, north }: LonLatExtent, area: LonLatExtent): boolean {
  const isWest = isNear([west, south], area) || isNear([west, north], area);
  return !isWest && !isNear([east, south], area) && !isNear([east, north], area);
}

/**
 * All layers in the grid of the whole site, east and north in metres.
 *
 * Fails with kind `input` where a layer has no CRS, one that cannot be understood, coordinates that
 * cannot be degrees under a CRS in degrees, or where there are no coordinates at all. Findings: the
 * datum shift that was used and its accuracy, sites wider than 20 km, layers far apart or swapped,
 * layers outside their CRS's area of use. Linear in the positions: about 2 µs each where they are few,
 * a tenth of that where many lie close together (see `TiledTransform`; within 0.01 mm all the same).
 */
export function toSiteGrid(
  layers: readonly RawLayer[],
  options: SiteGridOptions,
): Outcome<GriddedSite> {
  const ranged = layers.map((layer) => ({ layer, range: rangeOf(layer) }));
  if (ranged.every(({ range }) => range === undefined)) {
    const file = layers[0]?.file;
    return failed({
      ...(file === undefined ? {} : { file }),
      code: "NO_COORDINATES",
      kind: "input",
      message: "no feature of the inputs has a shape",
      remedy: "Check that the right layers were exported, with their geometry.",
    });
  }
  const { declarations, findings } = chooseDeclarations(
    ranged,
    options.crsOverride,
    options.crsByFile,
  );
  const resolver = new Resolver(options.registry);
  const resolved: Resolved[] = [];
  for (const [index, one] of ranged.entries()) {
    const result = resolveLayer(one, declarations[index]!, resolver);
    if (result === undefined) continue;
    if (isProblem(result)) return failed(result, [...findings, ...resolver.findings]);
    resolved.push(result);
  }
  for (const finding of resolver.findings) findings.push(finding);
  const tiles = countTiles(resolved);
  const placed = placeFeatures(resolved, tiles);
  if (!Array.isArray(placed)) return failed(placed, findings);
  const extent = extentOf(corners(placed))!;
  for (const finding of outsideFindings(resolved, placed)) findings.push(finding);
  findings.push(...spreadFindings(placed, extent));
  const grid = options.grid ?? makeSiteGrid(extent);
  return done({ layers: resolved.map((one) => inGrid(one, grid, tiles)), grid }, findings);
}
