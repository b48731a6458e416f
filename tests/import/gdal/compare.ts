import type { Geometry, Position } from "geojson";
import { readInputs } from "../../../src/import/read-inputs.ts";
import type { RawLayer } from "../../../src/model/features.ts";
import { inputAt } from "../fixtures.ts";

/** A geometry in figures: type, positions, west, south, east, north, mean x, y and z. */
export type Figures = readonly [string, ...(number | string)[]] | null;

export interface ExpectedLayer {
  readonly name: string;
  readonly features: number;
  /** Every how many features figures are given. */
  readonly step: number;
  readonly figures: readonly Figures[];
}

/** What GDAL reads (scripts/make-gdal-expectations.mjs); a file is null where GDAL does not open it. */
export interface Expectations {
  readonly made_with: string;
  readonly files: Readonly<Record<string, readonly (ExpectedLayer | null)[] | null>>;
}

const DEGREES_TOLERANCE = 1e-9;
const METRES_TOLERANCE = 1e-4;

function positionsOf(geometry: Geometry): Position[] {
  if (geometry.type === "GeometryCollection") return geometry.geometries.flatMap(positionsOf);
  const flat: Position[] = [];
  const visit = (nested: unknown[]): void => {
    if (typeof nested[0] === "number") flat.push(nested as Position);
    else for (const part of nested) visit(part as unknown[]);
  };
  visit(geometry.coordinates);
  return flat;
}

function figuresOf(geometries: readonly Geometry[]): Figures {
  const positions = geometries.flatMap(positionsOf);
  if (positions.length === 0) return null;
  const values = (index: number) => positions.map((position) => position[index] ?? 0);
  const mean = (index: number) => values(index).reduce((sum, v) => sum + v, 0) / positions.length;
  const [xs, ys] = [values(0), values(1)];
  const least = (list: number[]) => list.reduce((a, b) => Math.min(a, b));
  const most = (list: number[]) => list.reduce((a, b) => Math.max(a, b));
  const box = [least(xs), least(ys), most(xs), most(ys)];
  return [geometries[0]!.type, positions.length, ...box, mean(0), mean(1), mean(2)];
}

/** Polygon and MultiPolygon are one family: writers differ in which they use for a single part. */
const familyOf = (type: string) => type.replace(/^Multi/, "");

function figuresDiffer(theirs: Figures, ours: Figures): string | undefined {
  if (theirs === null || ours === null) {
    if (theirs === ours) return undefined;
    return `${theirs === null ? "none" : theirs[0]} against ${ours === null ? "none" : ours[0]}`;
  }
  const isCollection = theirs[0] === "GeometryCollection";
  if (!isCollection && familyOf(theirs[0]) !== familyOf(ours[0])) {
    return `${theirs[0]} against ${ours[0]}`;
  }
  if (theirs[1] !== ours[1]) return `${theirs[1]} positions against ${ours[1]}`;
  const largest = Math.max(...ours.slice(2, 6).map((value) => Math.abs(Number(value))));
  const tolerance = largest > 360 ? METRES_TOLERANCE : DEGREES_TOLERANCE;
  for (let i = 2; i < theirs.length; i++) {
    const off = Math.abs(Number(theirs[i]) - Number(ours[i]));
    // Heights in metres, whatever the system.
    if (!(off <= (i === theirs.length - 1 ? METRES_TOLERANCE : tolerance))) {
      return `figure ${i} is ${theirs[i]} against ${ours[i]}`;
    }
  }
  return undefined;
}

function layerDiffers(theirs: ExpectedLayer, ours: RawLayer): string | undefined {
  const count = ours.featuresInFile ?? ours.features.length;
  if (theirs.features !== count) {
    return `layer ${theirs.name}: ${theirs.features} features against ${count}`;
  }
  const byNumber = new Map<number, Geometry[]>();
  for (const { number, geometry } of ours.features) {
    const held = byNumber.get(number) ?? [];
    if (geometry !== null) held.push(geometry);
    byNumber.set(number, held);
  }
  for (const [index, figures] of theirs.figures.entries()) {
    const number = 1 + index * theirs.step;
    const held = byNumber.get(number);
    if (held === undefined) return `layer ${theirs.name}: feature ${number} is left out`;
    const difference = figuresDiffer(figures, figuresOf(held));
    if (difference !== undefined) return `layer ${theirs.name}, feature ${number}: ${difference}`;
  }
  return undefined;
}

/** Undefined where we read what GDAL reads; else the first difference, theirs against ours. */
export async function differenceFrom(
  expected: readonly (ExpectedLayer | null)[] | null,
  path: string,
): Promise<string | undefined> {
  const outcome = await readInputs([inputAt(path)]);
  const hasFeatures = expected?.some((layer) => layer !== null && layer.features > 0) === true;
  if (!outcome.ok) {
    return hasFeatures ? `layers against ${outcome.problem.code}` : undefined;
  }
  const ours = outcome.value.filter((layer) => (layer.featuresInFile ?? layer.features.length) > 0);
  if (expected === null) return `does not open against ${ours.length} layer(s)`;
  // Layers without features (an empty folder) are no loss, whoever lists them.
  const theirs = expected.filter((layer) => layer !== null).filter((layer) => layer.features > 0);
  if (theirs.length !== ours.length) {
    return `${theirs.length} layer(s) against ${ours.length} (${ours.map((l) => l.layer).join(", ")})`;
  }
  for (const [index, layer] of theirs.entries()) {
    const difference = layerDiffers(layer, ours[index]!);
    if (difference !== undefined) return difference;
  }
  return undefined;
}
