/** Whether a value is a GeoJSON feature (RFC 7946) whose geometry can be used, and why not. */

/** What makes a feature unusable, in our words. */
export interface FeatureFault {
  readonly code: string;
  readonly message: string;
}

/** How deep the positions of a geometry lie in its lists. */
const DEPTHS: ReadonlyMap<unknown, number> = new Map([
  ["Point", 0],
  ["MultiPoint", 1],
  ["LineString", 1],
  ["MultiLineString", 2],
  ["Polygon", 2],
  ["MultiPolygon", 3],
]);

/** Faults beyond these are counted, not kept. */
const KEPT = 1;

/** Notes the first fault and counts the rest. */
class Faults {
  readonly #kept: FeatureFault[] = [];
  #count = 0;

  note(code: string, message: string, path: readonly number[] = []): void {
    if (this.#count++ >= KEPT) return;
    const at =
      path.length > 0 ? ` (place ${path.map((i) => i + 1).join(", ")} of its coordinates)` : "";
    this.#kept.push({ code, message: `${message}${at}` });
  }

  malformed(why: string, path?: readonly number[]): void {
    this.note("FEATURE_MALFORMED", `not a GeoJSON feature: ${why}`, path);
  }

  get result(): FeatureFault | undefined {
    const [first] = this.#kept;
    const more = this.#count - 1;
    if (!first || more === 0) return first;
    return { ...first, message: `${first.message}, and ${more} more fault${more > 1 ? "s" : ""}` };
  }
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null;

/**
 * What is wrong with a feature, less what is repaired later (rings that are not closed) or does not
 * touch its geometry (`properties`, `bbox`). Undefined where it can be used. Linear in its positions.
 *
 * Source: RFC 7946, 3.1 and 3.2.
 */
export function featureFault(feature: unknown): FeatureFault | undefined {
  const faults = new Faults();
  if (!isObject(feature)) faults.malformed("it is no object");
  else {
    if (feature.type !== "Feature") faults.malformed('its type is not "Feature"');
    if (!Object.hasOwn(feature, "geometry")) faults.malformed("it has no member geometry");
    else if (feature.geometry !== null) checkGeometry(feature.geometry, faults);
  }
  return faults.result;
}

function checkGeometry(geometry: unknown, faults: Faults): void {
  if (!isObject(geometry)) faults.malformed("its geometry is no object");
  else if (geometry.type !== "GeometryCollection") checkCoordinates(geometry, faults);
  else if (!Array.isArray(geometry.geometries)) faults.malformed("geometries is no list");
  else for (const one of geometry.geometries) checkGeometry(one, faults);
}

function checkCoordinates(geometry: Readonly<Record<string, unknown>>, faults: Faults): void {
  const { type } = geometry;
  const depth = DEPTHS.get(type);
  if (depth === undefined) {
    const isNamed = typeof type === "string";
    const name = isNamed
      ? `no geometry is of type "${type.slice(0, 40)}"`
      : "its geometry has no type";
    faults.malformed(name);
  } else if (!Object.hasOwn(geometry, "coordinates")) {
    faults.malformed("it has no coordinates");
  } else {
    checkList(geometry.coordinates, depth, LEAST.get(type) ?? 0, [], faults);
  }
}

/** Positions that a line or a ring must have. */
const LEAST: ReadonlyMap<unknown, 2 | 4> = new Map([
  ["LineString", 2],
  ["MultiLineString", 2],
  ["Polygon", 4],
  ["MultiPolygon", 4],
]);

function checkList(
  value: unknown,
  depth: number,
  least: 0 | 2 | 4,
  path: readonly number[],
  faults: Faults,
): void {
  if (depth === 0) {
    checkPosition(value, path, faults);
    return;
  }
  if (!Array.isArray(value)) {
    faults.malformed("its coordinates are no list", path);
    return;
  }
  if (depth === 1 && least === 2 && value.length < 2) {
    faults.note("TOO_FEW_POSITIONS", "a line has fewer than two positions", path);
    return;
  }
  value.forEach((one, i) => {
    if (depth > 1 || !isPosition(one)) checkList(one, depth - 1, least, [...path, i], faults);
  });
  if (depth > 1 || least < 4 || value.length >= 4 || isOpenTriangle(value)) return;
  if (value.length === 0) faults.note("TOO_FEW_POSITIONS", "a ring has no positions");
  else faults.note("TOO_FEW_POSITIONS", "a ring has fewer than four positions", path);
}

/** Most are: no place is noted for them. */
function isPosition(value: unknown): boolean {
  if (!Array.isArray(value) || value.length < 2) return false;
  for (let i = 0; i < value.length; i++) if (typeof value[i] !== "number") return false;
  return true;
}

/** A triangle that was left open has three positions; it is closed later. */
function isOpenTriangle(ring: readonly unknown[]): boolean {
  return ring.length === 3 && String(ring[0]) !== String(ring[2]);
}

function checkPosition(value: unknown, path: readonly number[], faults: Faults): void {
  const isShort = !Array.isArray(value) || value.length < 2;
  if (isShort) {
    faults.note("POSITION_MALFORMED", "a position is not a list of two or three numbers", path);
  }
  if (!Array.isArray(value)) return;
  value.forEach((number, i) => {
    if (typeof number === "number") return;
    const message = `coordinate ${i + 1} is ${shown(number)} where a number belongs`;
    faults.note("COORDINATE_NOT_A_NUMBER", message, path);
  });
}

/** What stands where a number belongs. */
function shown(value: unknown): string {
  if (value === null || value === undefined) return "null (or NaN)";
  if (Array.isArray(value)) return "a list";
  if (typeof value === "object") return "an object";
  return value === "" ? "an empty text" : `"${String(value).slice(0, 40)}"`;
}
