/** What the site file says of single features of the inputs, and what it draws beside them. */
import type { Geometry, Position } from "geojson";
import type { GridLayer, RawFeature } from "../model/features.ts";
import type { DrawnThing, FeatureRule } from "../model/site-rules.ts";
import { nearestName } from "../profile/nearest-name.ts";
import { counted, listed, type Note } from "./notes.ts";
import { isLayer } from "./rulings.ts";

/** A rule of one feature whose geometry is in the site grid, metres. */
export type GridFeatureRule = Omit<FeatureRule, "geometry" | "crs"> & {
  readonly geometry?: Geometry | undefined;
};

/** Something drawn in the site file, in the site grid, metres. */
export type GridDrawnThing = Omit<DrawnThing, "geometry" | "crs"> & {
  readonly geometry: Geometry;
};

/** Name of the layer that holds what the site file draws. */
export const DRAWN_LAYER = "things";

/**
 * Layers with the features that the site file speaks of changed: moved, redrawn, taken out, and with
 * the role and attributes that it gives them. A feature that was a GeometryCollection is moved and
 * taken out whole, and redrawn as one. Rules that fit nothing, or more than one feature, are told.
 *
 * @param layers in the site grid; those without a changed feature come back as they are
 */
export function changeFeatures(
  layers: readonly GridLayer[],
  rules: readonly GridFeatureRule[],
  note: Note,
): readonly GridLayer[] {
  if (rules.length === 0) return layers;
  const finder = new FeatureFinder(layers);
  const changes = new Map<GridLayer, Map<number, GridFeatureRule>>();
  const counts = { moved: 0, redrawn: 0, removed: 0 };
  rules.forEach((rule, i) => {
    const found = finder.find(rule);
    const [first, ...more] = found;
    if (!first) {
      note(unused(rule, i, layers));
      return;
    }
    if (more.length > 0) note(shared(rule, i, found));
    const ofLayer = changes.get(first.layer) ?? new Map<number, GridFeatureRule>();
    const earlier = ofLayer.get(first.number);
    if (earlier) note(twice(first, i));
    const set = rule.set || earlier?.set ? { set: { ...rule.set, ...earlier?.set } } : {};
    ofLayer.set(first.number, { ...rule, ...earlier, ...set });
    changes.set(first.layer, ofLayer);
    if (rule.moveM) counts.moved++;
    if (rule.geometry) counts.redrawn++;
    if (rule.remove) counts.removed++;
  });
  report(counts, note);
  return layers.map((layer) => {
    const ofLayer = changes.get(layer);
    return ofLayer ? { ...layer, features: changedAll(layer.features, ofLayer) } : layer;
  });
}

/** A feature, members of a GeometryCollection taken together. */
interface Found {
  readonly layer: GridLayer;
  readonly number: number;
}

/** Finds features by file, layer, number and id; each layer is gone through once. */
class FeatureFinder {
  readonly #layers: readonly GridLayer[];
  readonly #ofLayer = new Map<GridLayer, { numbers: Set<number>; ids: Map<string, Set<number>> }>();

  constructor(layers: readonly GridLayer[]) {
    this.#layers = layers;
  }

  find(rule: GridFeatureRule): Found[] {
    return layersOf(this.#layers, rule).flatMap((layer) => {
      const { numbers, ids } = this.#index(layer);
      if (rule.number !== undefined) {
        return numbers.has(rule.number) ? [{ layer, number: rule.number }] : [];
      }
      return [...(ids.get(rule.id ?? "") ?? [])].map((number) => ({ layer, number }));
    });
  }

  #index(layer: GridLayer) {
    const known = this.#ofLayer.get(layer);
    if (known) return known;
    const index = { numbers: new Set<number>(), ids: new Map<string, Set<number>>() };
    for (const { number, id } of layer.features) {
      index.numbers.add(number);
      if (id === undefined) continue;
      const same = index.ids.get(id) ?? new Set<number>();
      index.ids.set(id, same.add(number));
    }
    this.#ofLayer.set(layer, index);
    return index;
  }
}

/** The layers that a rule may mean: of its very name where there are such, else of a like one. */
function layersOf(layers: readonly GridLayer[], { file, layer }: GridFeatureRule): GridLayer[] {
  const ofFile = layers.filter((one) => file === undefined || one.file === file);
  if (layer === undefined) return ofFile;
  const exact = ofFile.filter((one) => one.layer === layer);
  return exact.length > 0 ? exact : ofFile.filter((one) => isLayer(one.layer, layer));
}

function changedAll(
  features: readonly RawFeature[],
  rules: ReadonlyMap<number, GridFeatureRule>,
): RawFeature[] {
  const redrawn = new Set<number>();
  return features.flatMap((feature) => {
    const rule = rules.get(feature.number);
    if (!rule) return [feature];
    if (rule.remove) return [];
    if (rule.geometry && redrawn.has(feature.number)) return [];
    redrawn.add(feature.number);
    return [changed(feature, rule)];
  });
}

function changed(feature: RawFeature, { geometry, moveM, role, set }: GridFeatureRule): RawFeature {
  const { number, id, properties, part, measures } = feature;
  const drawn = geometry ?? feature.geometry;
  const ruled = role !== undefined || set !== undefined ? { ruled: { role, set } } : {};
  return {
    number,
    ...(id !== undefined && { id }),
    ...(part !== undefined && !geometry && { part }),
    ...(measures !== undefined && !geometry && { measures }),
    properties,
    geometry: moveM && drawn ? shifted(drawn, moveM) : drawn,
    ...ruled,
  };
}

function shifted(geometry: Geometry, by: readonly [number, number]): Geometry {
  if (geometry.type === "GeometryCollection") {
    return { ...geometry, geometries: geometry.geometries.map((one) => shifted(one, by)) };
  }
  type Nested = Position | Nested[];
  const move = (nested: Nested): Nested => {
    if (typeof nested[0] !== "number") return (nested as Nested[]).map(move);
    const [x, y, ...rest] = nested as Position;
    return [x! + by[0], y! + by[1], ...rest];
  };
  return { type: geometry.type, coordinates: move(geometry.coordinates as Nested) } as Geometry;
}

/**
 * A layer of what the site file draws; undefined where it draws nothing.
 *
 * @param file name of the site file
 */
export function drawnLayer(things: readonly GridDrawnThing[], file: string): GridLayer | undefined {
  if (things.length === 0) return undefined;
  return {
    file,
    format: "site file",
    layer: DRAWN_LAYER,
    fields: [],
    crs: { kind: "none" },
    crsName: "site grid",
    crsFrom: "site file",
    features: things.map(({ role, name, geometry, set }, i) => ({
      number: i + 1,
      id: `${DRAWN_LAYER}[${i}]`,
      geometry,
      properties: { ...(name !== undefined && { name }) },
      ruled: { role, isDrawn: true, ...(set && { set }) },
    })),
  };
}

function inWords({ file, layer, number, id }: GridFeatureRule): string {
  const which = number === undefined ? `id "${id}"` : `number ${number}`;
  const where = [
    layer === undefined ? undefined : `layer "${layer}"`,
    file === undefined ? undefined : `file ${file}`,
  ].filter((one) => one !== undefined);
  return where.length > 0 ? `${which} in ${where.join(" of ")}` : which;
}

function unused(rule: GridFeatureRule, i: number, layers: readonly GridLayer[]) {
  const fitting = layersOf(layers, rule);
  const names = layers.map(({ layer }) => layer);
  const near = rule.layer === undefined ? undefined : nearestName(rule.layer, names);
  const [one] = fitting;
  const count = one ? Math.max(0, ...one.features.map(({ number }) => number)) : 0;
  return {
    code: "FEATURE_RULE_UNUSED",
    severity: "warning" as const,
    message: `There is no feature with ${inWords(rule)}, of which features[${i}] of the site file speaks; nothing was changed.`,
    remedy: one
      ? `Layer "${one.layer}" has features numbered up to ${count}. Was the file written anew?`
      : `${near ? `Did you mean layer "${near}"? ` : ""}The layers are: ${listed(
          names.map((name) => `"${name}"`),
          12,
        )}.`,
  };
}

/** What is the same of all that is said of entries that speak of one feature, or of several. */
const sharing = ({ layer, number }: Found) => ({
  code: "FEATURE_RULE_SHARED",
  severity: "warning" as const,
  file: layer.file,
  layer: layer.layer,
  feature: `#${number}`,
});

function shared(rule: GridFeatureRule, i: number, found: readonly Found[]) {
  return {
    ...sharing(found[0]!),
    message: `${counted(found.length, "feature")} have ${inWords(rule)}, of which features[${i}] of the site file speaks; only the first was changed.`,
    remedy: "Give file, layer and number, which name one feature.",
  };
}

function twice(found: Found, i: number) {
  return {
    ...sharing(found),
    message: `features[${i}] of the site file speaks of a feature that an earlier entry speaks of; what both say is taken from the earlier one.`,
    remedy: "Put both into one entry.",
  };
}

function report(counts: Readonly<Record<"moved" | "redrawn" | "removed", number>>, note: Note) {
  const said = Object.entries(counts).filter(([, count]) => count > 0);
  if (said.length === 0) return;
  const parts = said.map(([what, count]) => `${count} ${what}`);
  note({
    code: "FEATURES_CHANGED",
    severity: "info",
    message: `Features of the inputs are not where the files have them, as the site file says: ${parts.join(", ")}.`,
    remedy:
      "Nothing to do. Once the files themselves are changed, take the entries out of features.",
  });
}
