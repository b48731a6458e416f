/** An edit written into the text of the site file. */
import type { Position } from "geojson";
import type { LonLat, PointM } from "../../model/geometry.ts";
import type { DrawnGeometry } from "../../model/site-rules.ts";
import { isBuiltIn } from "../../sitefile/chosen-profile.ts";
import { JsonEditor } from "../../sitefile/edit-json.ts";
import type { SiteFile } from "../../sitefile/site-file.ts";
import type { Edit, EditSpot, RingsM, SetValues, Shape, Target } from "./edit.ts";

/** What an edit must know beside the site file. */
export interface EditGround {
  /** Metres of the site grid to degrees. */
  toDegrees(atM: PointM): LonLat;
  /** A position of the site file to metres: degrees, or in the system that stands beside it. */
  toMetres(at: Position, crs: string | number | undefined): PointM;
  /** The id that a feature alone has in its layer, and the file's name as the site file writes it. */
  nameOf(feature: Extract<Target, { in: "feature" }>): {
    readonly id?: string | undefined;
    readonly file?: string | undefined;
    readonly layer?: string | undefined;
  };
  /** Text of the profile file, where the site file names one. */
  readonly profile?: string | undefined;
}

type FeatureEntry = NonNullable<SiteFile["features"]>[number];
type ThingEntry = NonNullable<SiteFile["things"]>[number];
type Feature = Extract<Target, { in: "feature" }>;
type Listed = Extract<Target, { number: number }> & {
  readonly in: "things" | "run_ground" | "edges";
};

/** Decimals of a degree, as in the plan: 0.1 mm. */
const DEGREE_DECIMALS = 9;

/**
 * The text with an edit in it; everything else in it stays as it is.
 *
 * @param text a site file that `readSiteFile` accepts
 * @returns a text that it accepts, too, where the edit's values are within their ranges
 */
export function applyEdit(text: string, edit: Edit, ground: EditGround): string {
  return new Writer(new JsonEditor(text), ground).apply(edit).text;
}

class Writer {
  readonly #editor: JsonEditor;
  readonly #ground: EditGround;

  constructor(editor: JsonEditor, ground: EditGround) {
    this.#editor = editor;
    this.#ground = ground;
  }

  apply(edit: Edit): JsonEditor {
    switch (edit.edit) {
      case "stations":
        return this.#spots("station", edit.spots);
      case "outlets":
        return this.#spots("outlet", edit.spots);
      case "set":
        return this.#set(edit.of, edit.set ?? {}, edit.role);
      case "move":
        return this.#move(edit.of, edit.byM);
      case "redraw":
        return this.#redraw(edit.of, edit.shape, edit.role);
      case "remove":
        return this.#remove(edit.of);
      case "draw": {
        const { role, name, shape, set } = edit;
        const entry = { role, name, geometry: this.#geometry(shape), set: plainSet(set) };
        return this.#editor.insert(["things"], entry);
      }
      case "edge":
        return this.#edge(edit);
      case "setin":
        return this.#setin(edit);
      case "profile":
        return this.#editor.set(["profile"], edit.name);
      case "profile-value":
        return this.#profileValue(edit.path, edit.value);
      case "run-ground": {
        const { area, name, wire, runCost, slopePercent } = edit;
        const ring = area.map((atM) => this.#degrees(atM));
        const entry = { area: ring, name, wire, run_cost: runCost, slope_percent: slopePercent };
        return this.#editor.insert(["run_ground"], entry);
      }
      case "parts":
        return edit.parts === null
          ? this.#editor.remove(["parts"])
          : this.#editor.set(["parts"], edit.parts);
    }
  }

  #spots(key: "station" | "outlet", spots: readonly EditSpot[]): JsonEditor {
    if (spots.length === 0) return this.#editor.remove([key]);
    const written = spots.map(({ name, atM }) => ({ name, at: this.#degrees(atM) }));
    return this.#editor.set([key], written.length === 1 ? written[0] : written);
  }

  #set(target: Target, set: SetValues, role: string | undefined): JsonEditor {
    switch (target.in) {
      case "feature":
        return this.#changeFeature(target, (entry) => ({
          ...entry,
          ...(role !== undefined && { role }),
          set: mergedSet(entry.set, set),
        }));
      case "things": {
        const { name, ...rest } = set;
        return this.#changeListed<ThingEntry>(target, (entry) => ({
          ...entry,
          ...(role !== undefined && { role }),
          ...(name !== undefined && { name: name ?? undefined }),
          set: mergedSet(entry.set, rest),
        }));
      }
      case "run_ground":
      case "edges":
        return this.#changeListed<object>(target, (entry) => ({
          ...entry,
          ...Object.fromEntries(Object.entries(set).map(([key, one]) => [key, one ?? undefined])),
        }));
      case "hole":
        return this.#drawn(role ?? "bed", target.areas, set);
    }
  }

  #move(target: Target, [e, n]: PointM): JsonEditor {
    switch (target.in) {
      case "feature":
        return this.#changeFeature(target, (entry) => {
          const [e0, n0] = entry.move_m ?? [0, 0];
          const moved: [number, number] = [millimetres(e0 + e), millimetres(n0 + n)];
          return { ...entry, move_m: moved.every((one) => one === 0) ? undefined : moved };
        });
      case "things":
        return this.#changeListed<ThingEntry>(target, ({ geometry, crs, ...entry }) => ({
          ...entry,
          geometry: mapped(geometry, (at) => this.#shifted(at, crs, [e, n])),
        }));
      case "run_ground":
      case "edges": {
        type Entry = { crs?: string | number; area?: Position[]; line?: Position[] };
        return this.#changeListed<Entry>(target, ({ crs, ...entry }) => {
          const shift = (at: Position) => this.#shifted(at, crs, [e, n]);
          return {
            ...entry,
            ...(entry.area && { area: entry.area.map(shift) }),
            ...(entry.line && { line: entry.line.map(shift) }),
          };
        });
      }
      case "hole": {
        const moved = target.areas.map((rings) =>
          rings.map((ring) => ring.map(([x, y]): PointM => [x + e, y + n])),
        );
        return this.#overHole(target.areas, "bed", moved);
      }
    }
  }

  #redraw(target: Target, shape: Shape, role: string | undefined): JsonEditor {
    const geometry = this.#geometry(shape);
    switch (target.in) {
      case "feature":
        return this.#changeFeature(target, ({ move_m: _, crs: __, ...entry }) => ({
          ...entry,
          ...(role !== undefined && { role }),
          geometry,
        }));
      case "things":
        return this.#changeListed<ThingEntry>(target, ({ crs: _, ...entry }) => ({
          ...entry,
          geometry,
        }));
      case "run_ground":
      case "edges": {
        const key = target.in === "edges" ? "line" : "area";
        const points = pointsOf(shape).map((atM) => this.#degrees(atM));
        return this.#changeListed<{ crs?: string | number }>(target, ({ crs: _, ...entry }) => ({
          ...entry,
          [key]: points,
        }));
      }
      case "hole":
        return this.#overHole(
          target.areas,
          role ?? "bed",
          shape.form === "area" ? shape.areas : [],
        );
    }
  }

  #remove(target: Target): JsonEditor {
    if (target.in === "hole") return this.#drawn("lawn", target.areas, {});
    if (target.in === "feature") {
      return this.#changeFeature(target, ({ file, layer, number, id }) => {
        return { file, layer, number, id, remove: true };
      });
    }
    const path = [target.in, target.number - 1];
    const list = (this.#editor.value([target.in]) ?? []) as unknown[];
    return list.length === 1 ? this.#editor.remove([target.in]) : this.#editor.remove(path);
  }

  #edge({ line, kind, setinM }: Extract<Edit, { edit: "edge" }>): JsonEditor {
    const written = line.map((atM) => this.#degrees(atM));
    const entry = { line: written, edge: kind, setin_m: setinM };
    const edges = (this.#editor.value(["edges"]) ?? []) as NonNullable<SiteFile["edges"]>;
    const same = edges.findIndex((one) => JSON.stringify(one.line) === JSON.stringify(written));
    if (same >= 0) return this.#editor.set(["edges", same], entry);
    return this.#editor.insert(["edges"], entry, 0);
  }

  #setin({ by, name, setinM }: Extract<Edit, { edit: "setin" }>): JsonEditor {
    const held = (this.#editor.value(["setin_m", by]) ?? {}) as Record<string, number>;
    const plain = (text: string) => text.trim().toLowerCase();
    const key = Object.keys(held).find((one) => plain(one) === plain(name)) ?? name;
    if (setinM !== null) return this.#editor.set(["setin_m", by, key], setinM);
    return without(this.#editor, ["setin_m", by, key]);
  }

  #profileValue(path: readonly string[], value: number | boolean | null): JsonEditor {
    const said = this.#editor.value(["profile"]);
    let editor = this.#editor;
    if (typeof said !== "object" || said === null) {
      if (value === null) return editor;
      const based = typeof said === "string" && isBuiltIn(said) ? { based_on: said } : {};
      const isFile = typeof said === "string" && !isBuiltIn(said);
      const { $schema: _, ...file } = isFile ? JSON.parse(this.#ground.profile ?? "{}") : based;
      editor = editor.set(["profile"], file);
    }
    return value === null
      ? without(editor, ["profile", ...path])
      : editor.set(["profile", ...path], value);
  }

  /** Changes what is said of a feature; the entry is made where there is none, and goes when empty. */
  #changeFeature(target: Feature, change: (entry: FeatureEntry) => object): JsonEditor {
    const entries = (this.#editor.value(["features"]) ?? []) as FeatureEntry[];
    const { id, file, layer } = this.#ground.nameOf(target);
    const place = entries.findIndex(
      (one) =>
        (one.file === undefined || file === undefined || one.file === file) &&
        (one.layer === undefined || plainName(one.layer) === plainName(target.layer)) &&
        (one.number === undefined
          ? id !== undefined && String(one.id) === id
          : one.number === target.number),
    );
    const fresh = { file, layer, ...(id === undefined ? { number: target.number } : { id }) };
    const changed = tidy(change(entries[place] ?? (fresh as FeatureEntry)));
    const { file: _, layer: __, number: ___, id: ____, ...says } = changed as FeatureEntry;
    const isEmpty = Object.keys(says).length === 0;
    if (place < 0) {
      // In front: of two that speak of one feature the first decides.
      return isEmpty ? this.#editor : this.#editor.insert(["features"], changed, 0);
    }
    if (!isEmpty) return this.#editor.set(["features", place], changed);
    return entries.length === 1
      ? this.#editor.remove(["features"])
      : this.#editor.remove(["features", place]);
  }

  #changeListed<E extends object>(target: Listed, change: (entry: E) => object): JsonEditor {
    const path = [target.in, target.number - 1];
    const entry = this.#editor.value(path);
    if (typeof entry !== "object" || entry === null) return this.#editor;
    return this.#editor.set(path, tidy(change(entry as E)));
  }

  /** A hole becomes lawn, and what was in it lies elsewhere. */
  #overHole(hole: readonly RingsM[], role: string, areas: readonly RingsM[]): JsonEditor {
    const filled = this.#drawn("lawn", hole, {});
    return new Writer(filled, this.#ground).#drawn(role, areas, {});
  }

  #drawn(role: string, areas: readonly RingsM[], set: SetValues): JsonEditor {
    if (areas.length === 0) return this.#editor;
    const { name, ...rest } = set;
    const geometry = this.#geometry({ form: "area", areas });
    const entry = { role, name: name ?? undefined, geometry, set: plainSet(rest) };
    return this.#editor.insert(["things"], entry);
  }

  #geometry(shape: Shape): DrawnGeometry {
    switch (shape.form) {
      case "point":
        return { type: "Point", coordinates: this.#degrees(shape.atM) };
      case "line":
        return { type: "LineString", coordinates: shape.line.map((atM) => this.#degrees(atM)) };
      case "area": {
        const polygons = shape.areas.map((rings) => rings.map((ring) => this.#closed(ring)));
        return polygons.length === 1
          ? { type: "Polygon", coordinates: polygons[0]! }
          : { type: "MultiPolygon", coordinates: polygons };
      }
    }
  }

  #closed(ring: readonly PointM[]): Position[] {
    const points = ring.map((atM) => this.#degrees(atM));
    return [...points, points[0]!];
  }

  #shifted(at: Position, crs: string | number | undefined, [e, n]: PointM): Position {
    const [x, y] = this.#ground.toMetres(at, crs);
    return this.#degrees([x + e, y + n]);
  }

  #degrees(atM: PointM): [number, number] {
    const [lon, lat] = this.#ground.toDegrees(atM);
    return [Number(lon.toFixed(DEGREE_DECIMALS)), Number(lat.toFixed(DEGREE_DECIMALS))];
  }
}

const millimetres = (metres: number) => Math.round(1000 * metres) / 1000 + 0;
const plainName = (text: string) => text.trim().toLowerCase();

/** Takes a value out, and objects round it that are empty then. */
function without(editor: JsonEditor, path: readonly string[]): JsonEditor {
  const removed = editor.remove(path);
  const above = path.slice(0, -1);
  const holder = above.length > 0 ? removed.value(above) : undefined;
  const isEmpty = typeof holder === "object" && holder && Object.keys(holder).length === 0;
  return isEmpty ? without(removed, above) : removed;
}

function mergedSet(held: object | undefined, set: SetValues): object | undefined {
  return plainSet({ ...held, ...set } as SetValues);
}

/** Attributes that have a value; undefined where none has. */
function plainSet(set: SetValues | undefined): object | undefined {
  const left = Object.entries(set ?? {}).filter(([, value]) => value !== null);
  return left.length > 0 ? Object.fromEntries(left) : undefined;
}

/** Without keys whose value is undefined. */
function tidy(value: object): object {
  return Object.fromEntries(Object.entries(value).filter(([, one]) => one !== undefined));
}

function mapped(geometry: DrawnGeometry, change: (at: Position) => Position): DrawnGeometry {
  type Nested = Position | Nested[];
  const visit = (nested: Nested): Nested =>
    typeof nested[0] === "number" ? change(nested as Position) : (nested as Nested[]).map(visit);
  return { type: geometry.type, coordinates: visit(geometry.coordinates) } as DrawnGeometry;
}

function pointsOf(shape: Shape): readonly PointM[] {
  if (shape.form === "line") return shape.line;
  return shape.form === "area" ? (shape.areas[0]?.[0] ?? []) : [shape.atM];
}
