import type { Position } from "geojson";
import type { GridLayer, RawFeature } from "../model/features.ts";
import type { SourceRef } from "../model/finding.ts";
import type { PointM } from "../model/geometry.ts";
import type { Role } from "../model/roles.ts";
import { REPAIR_TOLERANCES } from "../model/site-rules.ts";
import { type Assigned, assignRole } from "./assign-role.ts";
import { type Fields, fieldsOf, textOf } from "./attributes.ts";
import { joinLines, nestLawnLines } from "./join-lines.ts";
import { counted, listed, type Note } from "./notes.ts";
import type { Shape } from "./osm-tags.ts";
import { type Parts, partsOf } from "./parts.ts";
import type { RawShape } from "./raw-shape.ts";
import { RuleBook, type Rulings } from "./rulings.ts";
import { roleOfTags, type TagMeaning } from "./tag-role.ts";

export type { RawShape } from "./raw-shape.ts";

/** Roles whose closed lines stand for what they enclose. */
const ENCLOSED: ReadonlySet<Role | undefined> = new Set<Role | undefined>([
  undefined,
  "lawn",
  "bed",
  "water",
  "gravel",
  "building",
  "keep-out",
]);

/**
 * Every feature of the layers as shapes with a role, in input order. What has no geometry, bad
 * coordinates or the role `ignore` is left out, with a finding.
 *
 * @param rulings what the user says, which comes before everything else
 */
export function sortFeatures(
  layers: readonly GridLayer[],
  rulings: Rulings,
  note: Note,
  { lineGapM } = REPAIR_TOLERANCES,
): RawShape[] {
  const shapes: RawShape[] = [];
  const book = new RuleBook(rulings);
  let clockwise = 0;
  for (const layer of layers) {
    let empty = 0;
    for (const feature of layer.features) {
      const source = sourceOf(layer, feature);
      const { geometry } = feature;
      const parts = geometry && partsOf(geometry);
      if (!parts || (!parts.polygons.length && !parts.lines.length && !parts.points.length)) {
        empty++;
        continue;
      }
      if (!parts.finite) {
        note({
          code: "COORDINATE_NOT_A_NUMBER",
          severity: "error",
          message: "A coordinate is missing or not a number; the whole feature was left out.",
          remedy: "Repair or redraw the feature in the program that made the file.",
          ...source,
        });
        continue;
      }
      if (layer.format === "geojson") clockwise += clockwiseShells(parts);
      for (const shape of shapesOf(layer, feature, book, source, parts, note)) shapes.push(shape);
    }
    if (empty > 0) {
      note({
        code: "NO_GEOMETRY",
        severity: "info",
        message: `${counted(empty, "feature")} without geometry left out.`,
        remedy: "Nothing to do unless something is missing on the plan.",
        file: layer.file,
        layer: layer.layer,
      });
    }
  }
  if (clockwise > 0) {
    note({
      code: "RING_WINDING",
      severity: "info",
      message: `${counted(clockwise, "outline")} ran clockwise, against RFC 7946, 3.1.6; turned round, which changes no shape.`,
      remedy: "Nothing to do.",
    });
  }
  book.reportUnused(layers, note);
  reportGuesses(shapes, note);
  const joined = joinLines(shapes, mayEnclose, lineGapM, note);
  const read = new Set(shapes);
  const isFromLine = (shape: RawShape) => shape.fromLines === true || !read.has(shape);
  reportClosedLines(shapes, note);
  return reportIgnored(nestLawnLines(joined, isFromLine, note), note);
}

/** Whether a line may be part of an outline: by its role, and not by tags, which have areas of their own. */
function mayEnclose({ assigned }: RawShape): boolean {
  return !assigned.taggedOtherwise && assigned.by !== "tags" && ENCLOSED.has(assigned.role);
}

/** Tells of lines that end where they begin and so were taken as outlines. */
function reportClosedLines(shapes: readonly RawShape[], note: Note): void {
  const closed = shapes.filter((shape) => shape.fromLines);
  const [first] = closed;
  if (!first) return;
  const at = first.polygons[0]![0]![0]!;
  note({
    code: "CLOSED_LINES_AS_OUTLINES",
    severity: "info",
    message: `${counted(closed.length, "feature")} drawn as closed lines taken as outlines: ${listed(closed.map((one) => one.source.feature ?? ""))}.`,
    remedy: "Nothing to do; draw polygons if your program can.",
    atM: [at[0]!, at[1]!],
    ...first.source,
  });
}

/** Roles read from attributes and names that were not written for us: one finding for each word. */
function reportGuesses(shapes: readonly RawShape[], note: Note): void {
  const words = new Map<string, { first: RawShape; count: number }>();
  for (const shape of shapes) {
    const { by, because, role } = shape.assigned;
    if (by !== "kind" && by !== "name") continue;
    const key = by === "kind" ? because : `${role} by name`;
    const entry = words.get(key);
    if (entry) entry.count++;
    else words.set(key, { first: shape, count: 1 });
  }
  for (const { first, count } of words.values()) {
    const byName = first.assigned.by === "name";
    note({
      code: byName ? "ROLES_BY_NAME" : "ROLES_BY_KIND",
      severity: "info",
      message: byName
        ? `${counted(count, "feature")} taken as ${first.assigned.role} by name, the first being "${first.assigned.because}".`
        : `${counted(count, "feature")} with ${first.assigned.because} taken as ${first.assigned.role}, since no role is given.`,
      remedy: "Give the attribute role where this is wrong.",
      ...first.source,
    });
  }
}

function shapesOf(
  layer: GridLayer,
  feature: RawFeature,
  book: RuleBook,
  source: SourceRef,
  parts: Parts,
  note: Note,
): RawShape[] {
  const read = fieldsOf(feature);
  const ids = [`#${feature.number}`, ...(feature.id === undefined ? [] : [feature.id])];
  const result: RawShape[] = [];
  const none = { polygons: [], lines: [], points: [] };
  const base = { source, ids, ...(feature.ruled?.set && { said: feature.ruled.set }) };
  const assign = (shape: Shape): { fields: Fields; assigned: Assigned } => {
    const ruling = book.rule(layer, read, shape, feature.ruled);
    const { fields } = ruling;
    const assigned = assignRole(layer, ruling, fields, shape, source, note);
    const isSaid = assigned.by === "rule" || assigned.by === "attribute";
    if (isSaid || shape !== "line" || !book.isEdgeLayer(layer)) return { fields, assigned };
    return { fields, assigned: { ...assigned, role: "edge", by: "rule", because: layer.layer } };
  };
  const polygons = [...parts.polygons];
  const openLines: (readonly Position[])[] = [];
  if (parts.lines.length > 0) {
    const { fields, assigned: asLine } = assign("line");
    for (const line of parts.lines) {
      const enclosing =
        !asLine.taggedOtherwise && ENCLOSED.has(asLine.role) && asLine.by !== "tags";
      if (enclosing && comesBack(line, asLine.role)) polygons.push([line]);
      else openLines.push(line);
    }
    if (openLines.length > 0) {
      result.push({ shape: "line", ...base, fields, assigned: asLine, ...none, lines: openLines });
    }
  }
  if (polygons.length > 0) {
    const { fields, assigned } = assign("area");
    const outlines = polygons.flat();
    const rim = assigned.by === "tags" || assigned.taggedOtherwise ? rimOf(fields) : undefined;
    if (rim) {
      const asRim = { ...rim, by: "tags" as const, because: rim.tag };
      result.push({ shape: "line", ...base, fields, assigned: asRim, ...none, lines: outlines });
    }
    const onlyRim = rim && (assigned.taggedOtherwise || assigned.because === rim.tag);
    const fromLines = parts.polygons.length === 0 ? { fromLines: true } : {};
    const area = { shape: "area" as const, ...base, fields, assigned, ...none, ...fromLines };
    if (!onlyRim) result.push({ ...area, polygons });
  }
  if (parts.points.length > 0) {
    const { points } = parts;
    result.push({ shape: "point", ...base, ...assign("point"), ...none, points });
  }
  return result;
}

/**
 * What runs along the rim of a tagged area: a wall, fence, hedge or kerb round it, or a way that
 * ends where it began. OpenStreetMap has such ways as areas only with `area=yes`; squares and
 * platforms are taken as areas all the same, since loops of these are rare.
 */
function rimOf(fields: Fields): TagMeaning | undefined {
  const line = roleOfTags(fields, "line");
  if (line?.tag.startsWith("barrier=") && line.edgeKind) {
    const solid = textOf(fields, "area") === "yes" && roleOfTags(fields, "area")?.role === "firm";
    return solid ? undefined : line;
  }
  if (!line?.tag.startsWith("highway=") || /=(pedestrian|platform)$/.test(line.tag)) {
    return undefined;
  }
  return textOf(fields, "area") === "yes" || fields.has("area:highway") ? undefined : line;
}

/**
 * Whether a line is an outline: closed to 1 mm, or, where its role says that it encloses
 * something, to half a metre or a twentieth of its length.
 */
function comesBack(line: readonly Position[], role: Role | undefined): boolean {
  if (line.length < 4 && !(role !== undefined && line.length === 3)) return false;
  const first = line[0]!;
  const last = line.at(-1)!;
  const gapM = Math.hypot(first[0]! - last[0]!, first[1]! - last[1]!);
  if (gapM <= 0.001) return true;
  if (role === undefined) return false;
  let lengthM = 0;
  for (let i = 1; i < line.length; i++) {
    lengthM += Math.hypot(line[i]![0]! - line[i - 1]![0]!, line[i]![1]! - line[i - 1]![1]!);
  }
  return gapM <= Math.max(0.5, lengthM / 20);
}

function clockwiseShells(parts: Parts): number {
  let count = 0;
  for (const [shell] of parts.polygons) {
    if (!shell || shell.length < 4) continue;
    const [e0, n0] = shell[0]! as [number, number];
    let twice = 0;
    for (let i = 1; i < shell.length; i++) {
      const [ae, an] = shell[i - 1]! as [number, number];
      const [be, bn] = shell[i]! as [number, number];
      twice += (ae - e0) * (bn - n0) - (be - e0) * (an - n0);
    }
    if (twice < 0) count++;
  }
  return count;
}

/** How a feature is called in findings: its name, else its id, else its number. */
export function sourceOf(layer: GridLayer, feature: RawFeature): SourceRef {
  const name = textOf(fieldsOf(feature), "name");
  return {
    file: layer.file,
    layer: layer.layer,
    feature: name ?? feature.id ?? `#${feature.number}`,
    number: feature.number,
  };
}

/** Takes out what is to be ignored, with one finding for each way in which that was said. */
function reportIgnored(shapes: readonly RawShape[], note: Note): RawShape[] {
  const left: RawShape[] = [];
  const classes = new Map<string, number>();
  const untagged = { line: [] as RawShape[], point: [] as RawShape[] };
  let told = 0;
  for (const one of shapes) {
    const { role, taggedOtherwise, because, by } = one.assigned;
    if (role === "ignore" && by !== "tags") told++;
    else if (role === "ignore" || taggedOtherwise) {
      classes.set(because, (classes.get(because) ?? 0) + 1);
    } else if (role === undefined && one.shape !== "area") untagged[one.shape].push(one);
    else left.push(one);
  }
  if (told > 0) {
    note({
      code: "IGNORED_AS_TOLD",
      severity: "info",
      message: `${counted(told, "feature")} left out because the role is ignore.`,
      remedy: "Nothing to do.",
    });
  }
  if (classes.size > 0) {
    const count = [...classes.values()].reduce((sum, n) => sum + n, 0);
    const common = [...classes].sort((a, b) => b[1] - a[1]).map(([tag, n]) => `${tag} (${n})`);
    note({
      code: "TAGS_WITHOUT_ROLE",
      severity: "info",
      message: `${counted(count, "feature")} left out: the tags name nothing that a lawn has to do with: ${listed(common, 6)}.`,
      remedy: "Give a feature the attribute role if it matters.",
    });
  }
  for (const shape of ["line", "point"] as const) {
    const list = untagged[shape];
    if (list.length === 0) continue;
    const { source, lines, points } = list[0]!;
    const at = shape === "line" ? lines[0]?.[0] : points[0];
    note({
      code: shape === "line" ? "LINES_WITHOUT_ROLE" : "POINTS_WITHOUT_ROLE",
      severity: "warning",
      message: `${counted(list.length, shape)} left out: nothing says what ${list.length === 1 ? "it is" : "they are"}, the first being ${source.feature} in layer "${source.layer}".`,
      remedy: "Give them the attribute role, or the layer a rule, e.g. --role LAYER=paving.",
      ...(at && { atM: [at[0]!, at[1]!] satisfies PointM }),
      ...source,
    });
  }
  return left;
}
