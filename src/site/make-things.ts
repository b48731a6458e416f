import { growLines } from "../geometry/offset.ts";
import { discRing, totalAreaM2 } from "../geometry/rings.ts";
import type { AreaM, LineM, PointM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { EdgeKind, Role } from "../model/roles.ts";
import type { Thing } from "../model/site.ts";
import { REPAIR_TOLERANCES } from "../model/site-rules.ts";
import { type Attributes, readAttributes } from "./attributes.ts";
import { cleanLine } from "./clean-line.ts";
import { contactOf, edgeKindAlong } from "./contact.ts";
import { lengthM } from "./lengths.ts";
import type { Note } from "./notes.ts";
import { flatOf } from "./parts.ts";
import { repairPolygon } from "./repair-polygon.ts";
import type { RawShape } from "./sort-features.ts";
import type { Tally } from "./tally.ts";

/** Widths of lines that stand for strips, where nothing says how wide: common practice, metres. */
export const LINE_WIDTH_M: Readonly<Partial<Record<Role, number>>> = {
  bed: 1,
  water: 1,
  gravel: 1.2,
  paving: 1.2,
  building: 0.3,
  firm: 0.3,
  "keep-out": 1,
};

/** Diameter of a grown trunk where nothing says how thick: common practice, metres. */
export const GROWN_TRUNK_M = 0.3;

/** Diameter of a firm thing drawn as a point where nothing says how big: common practice, metres. */
export const FIRM_POINT_M = 0.3;

/** A tree drawn as an area wider than this is its crown, not its trunk, metres. */
const CROWN_FROM_M = 2.5;

/** A thing before it has its running number. */
export type NewThing = Omit<Thing, "id" | "name"> & { readonly name?: string };

/** Half the greatest width that a line of the shape may get, for a first look at what is near. */
export function reachOf(shape: RawShape): number {
  if (shape.shape === "area") return 0;
  const stated = lengthM(shape.fields.get("width_m") ?? shape.fields.get("width")) ?? 0;
  const soil = lengthM(shape.fields.get("soil_radius_m") ?? shape.fields.get("soil_radiu")) ?? 0;
  return Math.max(stated / 2, soil, (shape.assigned.widthM ?? 0) / 2, 1.5);
}

/** One thing from the areas, lines or points of a feature with a role; none where nothing is left. */
export function makeThings(
  shape: RawShape,
  role: Role,
  profile: Profile,
  tally: Tally,
  note: Note,
  { spikeWidthM } = REPAIR_TOLERANCES,
): NewThing[] {
  const attributes = readAttributes(shape.fields, shape.source, note);
  const usual = shape.assigned.edgeKind;
  if (shape.shape === "area") {
    const areas = shape.polygons.flatMap((rings) => {
      const repaired = repairPolygon(rings, shape.source, note, spikeWidthM);
      return repaired.areas;
    });
    if (areas.length === 0) return [];
    const trunkM = role === "tree" ? trunkOfArea(shape, attributes, areas, tally) : undefined;
    return [thing(shape, role, areas, attributes, usual, profile, trunkM)];
  }
  if (shape.shape === "line") {
    const lines = shape.lines.map((line) => cleanLine(flatOf(line))).filter((l) => l.length >= 4);
    const areas = stripOf(lines, role, shape, attributes, tally);
    return areas.length === 0 ? [] : [thing(shape, role, areas, attributes, usual, profile)];
  }
  return shape.points.flatMap((position) => {
    const atM: PointM = [position[0]!, position[1]!];
    const disc = discOf(atM, role, shape, attributes, tally);
    if (!disc) return [];
    return [thing(shape, role, [disc.area], attributes, usual, profile, disc.trunkM)];
  });
}

function thing(
  shape: RawShape,
  role: Role,
  areas: readonly AreaM[],
  attributes: Attributes,
  usual: EdgeKind | undefined,
  profile: Profile,
  trunkM?: number,
): NewThing {
  const contact = contactOf(
    { role, attributes, ...(trunkM !== undefined && { trunkM }) },
    profile.obstacles,
  );
  return {
    role,
    ...(attributes.name !== undefined && { name: attributes.name }),
    areas,
    contact,
    edgeKind: edgeKindAlong({ role, attributes }, contact, usual, profile.obstacles),
    ...(attributes.setinM !== undefined && { setinM: attributes.setinM }),
    ...(attributes.heightM !== undefined && { heightM: attributes.heightM }),
    ...(attributes.crownM !== undefined && { crownM: attributes.crownM }),
    ...(attributes.isPublic && { isPublic: true }),
    source: shape.source,
  };
}

/** The strip that a line stands for; flat ends, so that a path ends where its line does. */
export function stripOf(
  lines: readonly LineM[],
  role: Role,
  shape: RawShape,
  attributes: Attributes,
  tally: Tally,
): AreaM[] {
  if (lines.length === 0) return [];
  let widthM = attributes.widthM;
  if (widthM === undefined || widthM === 0) {
    widthM = shape.assigned.widthM ?? LINE_WIDTH_M[role];
    if (widthM === undefined) {
      tally.add("LINE_DOES_NOT_FIT", role, shape, [lines[0]![0]!, lines[0]![1]!]);
      return [];
    }
    const sort = shape.assigned.by === "tags" ? shape.assigned.because : role;
    tally.add("LINE_WIDTH_ASSUMED", sort, shape, [lines[0]![0]!, lines[0]![1]!], widthM);
  }
  return growLines(lines.map(lappedOver), widthM / 2, "butt", "round");
}

/** A line that ends where it begins, with its first stretch repeated: no notch at the seam. */
function lappedOver(line: LineM): LineM {
  const n = line.length;
  if (n < 8 || line[0] !== line[n - 2] || line[1] !== line[n - 1]) return line;
  const lapped = new Float64Array(n + 2);
  lapped.set(line);
  lapped.set(line.subarray(2, 4), n);
  return lapped;
}

function trunkOfArea(
  shape: RawShape,
  attributes: Attributes,
  areas: readonly AreaM[],
  tally: Tally,
): number {
  const widthM = 2 * Math.sqrt(totalAreaM2(areas) / Math.PI);
  if (attributes.diameterM === undefined && widthM > CROWN_FROM_M) {
    const shell = areas[0]!.shell;
    tally.add("TREE_AREA_WIDE", "tree", shape, [shell[0]!, shell[1]!], widthM);
  }
  return attributes.diameterM ?? widthM;
}

/** The disc that a point stands for: a trunk with its bare soil, a post, a pot. */
function discOf(
  atM: PointM,
  role: Role,
  shape: RawShape,
  attributes: Attributes,
  tally: Tally,
): { area: AreaM; trunkM?: number } | undefined {
  if (role === "tree") {
    const given = attributes.diameterM ?? trunkOfTags(shape);
    const trunkM = given !== undefined && given > 0 ? given : GROWN_TRUNK_M;
    const soilM = attributes.soilRadiusM ?? 0;
    if (!(given !== undefined && given > 0) && soilM === 0) {
      tally.add("TREE_TRUNK_ASSUMED", "tree", shape, atM, GROWN_TRUNK_M);
    }
    const radiusM = Math.max(trunkM / 2, soilM);
    return { area: { shell: discRing(atM, radiusM), holes: [] }, trunkM };
  }
  let diameterM = attributes.diameterM ?? attributes.widthM;
  if (diameterM === undefined || diameterM === 0) {
    diameterM = shape.assigned.diameterM ?? (role === "firm" ? FIRM_POINT_M : undefined);
    if (diameterM === undefined) {
      tally.add("POINT_DOES_NOT_FIT", role, shape, atM);
      return undefined;
    }
    const sort = shape.assigned.by === "tags" ? shape.assigned.because : role;
    tally.add("POINT_SIZE_ASSUMED", sort, shape, atM, diameterM);
  }
  return { area: { shell: discRing(atM, diameterM / 2), holes: [] } };
}

/**
 * Trunk diameter from OpenStreetMap's `circumference` (metres at breast height; above 12 it can
 * only be centimetres) or `diameter` (metres up to 4, millimetres above), metres.
 */
function trunkOfTags(shape: RawShape): number | undefined {
  const round = lengthM(shape.fields.get("circumference"));
  if (round !== undefined && round > 0) return (round > 12 ? round / 100 : round) / Math.PI;
  const across = lengthM(shape.fields.get("diameter"));
  if (across !== undefined && across > 0) return across > 4 ? across / 1000 : across;
  return undefined;
}
