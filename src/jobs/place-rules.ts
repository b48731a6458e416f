/** What the user says of a site, brought into its grid. Pure. */
import type { Position } from "geojson";
import { overrideDeclaration } from "../crs/choose.ts";
import { mapGeometry } from "../crs/convert.ts";
import type { EpsgRegistry } from "../crs/registry.ts";
import { resolveCrs } from "../crs/resolve.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import type { LonLat, PointM } from "../model/geometry.ts";
import type { EdgeLine, PlacedPoint, SiteGrid } from "../model/site.ts";
import type { DrawnGeometry, SiteRules, Spot } from "../model/site-rules.ts";
import type { SiteInput } from "../site/build-site.ts";
import type { GridDrawnThing, GridFeatureRule } from "../site/changed-features.ts";
import type { DrawnGround } from "../site/drawn-ground.ts";
import { outlineAreas } from "../site/outline-areas.ts";

type Placed = Pick<
  SiteInput,
  | "rules"
  | "edges"
  | "edgeLines"
  | "runGround"
  | "drawnGround"
  | "lawns"
  | "insideLayer"
  | "setins"
  | "stations"
  | "outlets"
> & {
  /** What is said of single features. */
  readonly features: readonly GridFeatureRule[];
  /** What is drawn beside the inputs. */
  readonly things: readonly GridDrawnThing[];
};

/**
 * Places, lines and outlines of the rules in metres of the site grid. Needs `loadEngine()` awaited.
 *
 * Coordinates are in the system stated beside them; without one they are degrees, or, where they
 * cannot be, in the system of the whole site (`crs`). Fails with kind `usage` (`SPOT_NOT_PLACED`)
 * where that system is not known or has no such place.
 */
export function placeRules(
  said: SiteRules,
  grid: SiteGrid,
  crs: number | string | undefined,
  registry: EpsgRegistry,
): Outcome<Placed> {
  const place = placer(grid, crs, registry);
  const source = said.file === undefined ? {} : { file: said.file };
  try {
    const spots = (list: readonly Spot[] | undefined, role: string): PlacedPoint[] | undefined =>
      list?.map((spot, i) => ({
        name: spot.name ?? `${role} ${i + 1}`,
        atM: place(spot.at, spot.crs),
        source: { ...source, feature: spot.name ?? `${role} ${i + 1}`, number: i + 1 },
      }));
    const drawn = ({ geometry, crs: own }: Drawn) =>
      mapGeometry(geometry, (x, y) => place([x, y], own));
    const ruled = said.edges ?? [];
    const edgeLines = ruled.flatMap((rule, i): EdgeLine[] => {
      if (!("line" in rule)) return [];
      const points = rule.line.map((at) => place(at, rule.crs));
      const setinM = rule.setinM === undefined ? {} : { setinM: rule.setinM };
      const line = Float64Array.from(points.flat());
      const from = { ...source, feature: `edges[${i}]`, number: i + 1 };
      // The first in the list decides, and each of them beats lines of the inputs.
      return [{ kind: rule.edge, line, ...setinM, precedence: ruled.length - i, source: from }];
    });
    const drawnGround = (said.runGround ?? []).flatMap((rule, i): DrawnGround[] => {
      if (!("area" in rule)) return [];
      const ring = rule.area.map((at) => [...place(at, rule.crs)]);
      const areas = outlineAreas({ type: "Polygon", coordinates: [[...ring, ring[0]!]] });
      const name = rule.name ?? `run_ground ${i + 1}`;
      const from = { ...source, feature: `run_ground[${i}]`, number: i + 1 };
      return [{ ...rule, name, areas, source: from }];
    });
    const { inside, nearest, ...choice } = said.lawns ?? {};
    const isLayer = typeof inside === "string";
    const toGrid = (x: number, y: number) => grid.forward([x, y]);
    return done({
      rules: said.rules,
      features: (said.features ?? []).map(({ geometry, crs: own, ...rule }) => ({
        ...rule,
        ...(geometry && { geometry: drawn({ geometry, crs: own }) }),
      })),
      things: (said.things ?? []).map(({ geometry, crs: own, ...thing }) => ({
        ...thing,
        geometry: drawn({ geometry, crs: own }),
      })),
      edges: said.edges,
      edgeLines,
      runGround: said.runGround,
      drawnGround,
      insideLayer: isLayer ? inside : undefined,
      lawns: said.lawns && {
        ...choice,
        ...(inside && !isLayer && { inside: outlineAreas(mapGeometry(inside, toGrid)) }),
        ...(nearest && {
          nearest: { atM: place(nearest.at, nearest.crs), count: nearest.count ?? 1 },
        }),
      },
      setins: said.setins,
      stations: spots(said.stations, "station"),
      outlets: spots(said.outlets, "outlet"),
    });
  } catch (error) {
    if (!(error instanceof NoPlace)) throw error;
    return failed({
      code: "SPOT_NOT_PLACED",
      kind: "usage",
      ...source,
      message: error.message,
      remedy: "Give longitude and latitude in degrees, or the right crs beside the coordinates.",
    });
  }
}

interface Drawn {
  readonly geometry: DrawnGeometry;
  readonly crs?: number | string | undefined;
}

/** A place that is none; caught where the rules are placed. */
class NoPlace extends Error {}

/**
 * Brings positions as they stand in a site file into the grid. Throws an error with a message for
 * people where there is no such place or system.
 *
 * @param siteCrs the site file's own system, for numbers that cannot be degrees
 */
export function placer(
  grid: SiteGrid,
  siteCrs: number | string | undefined,
  registry: EpsgRegistry,
): (at: Position | readonly number[], crs?: number | string) => PointM {
  const known = new Map<number | string, ReturnType<typeof resolveCrs>>();
  return ([x = Number.NaN, y = Number.NaN], own) => {
    const isDegrees = Math.abs(x) <= 180 && Math.abs(y) <= 90;
    const crs = own ?? (isDegrees ? undefined : siteCrs);
    let lonLat: LonLat = [x, y];
    if (crs !== undefined) {
      const resolved = known.get(crs) ?? resolveCrs(overrideDeclaration(crs), registry);
      known.set(crs, resolved);
      if (!resolved.ok) throw new NoPlace(`The crs ${crs}: ${resolved.problem.message}.`);
      lonLat = resolved.value.toWgs84(x, y);
    } else if (!isDegrees) throw new NoPlace(`${x}, ${y} cannot be degrees.`);
    // Projections throw where they are asked for a place that is no number.
    const isPlace = lonLat.every(Number.isFinite);
    const atM: PointM = isPlace ? grid.forward(lonLat) : [Number.NaN, Number.NaN];
    if (!atM.every(Number.isFinite))
      throw new NoPlace(`${x}, ${y} has no place on earth in ${crs}.`);
    return atM;
  };
}
