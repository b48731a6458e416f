import gjv from "geojson-validation";

/** What makes a feature unusable, in our words. */
export interface FeatureFault {
  readonly code: string;
  readonly message: string;
}

/**
 * Faults that the site stage repairs (rings that are not closed) or that do not touch the geometry
 * (a missing `properties` member, a bad `bbox`).
 */
function isTolerable(message: string): boolean {
  return (
    /first and last positions must be equivalent/.test(message) ||
    /member with the name "properties"/.test(message) ||
    /^bbox/.test(message)
  );
}

/** `at 0: at 3: Position must …` as `[0, 3]` and the rest. */
function splitPath(message: string): { path: number[]; text: string } {
  const path: number[] = [];
  let text = message;
  for (let match = /^at (\d+): /.exec(text); match; match = /^at (\d+): /.exec(text)) {
    path.push(Number(match[1]));
    text = text.slice(match[0].length);
  }
  return { path, text };
}

function placeOf(path: readonly number[]): string {
  if (path.length === 0) return "";
  const place = path.map((index) => index + 1).join(", ");
  return ` (place ${place} of its coordinates)`;
}

/** What is no number, from the words that the library puts it in. */
function valueIn(text: string): string {
  if (text === "null") return "null (or NaN)";
  if (text === "") return "an empty list or text";
  if (text.includes("[object ")) return "an object or a list of objects";
  return `"${text.slice(0, 40)}"`;
}

function translate(message: string): FeatureFault {
  const { path, text } = splitPath(message);
  const place = placeOf(path);
  const bad = /Item (.*) at index (\d+) is invalid/.exec(text);
  if (bad) {
    const value = valueIn(bad[1]!);
    return {
      code: "COORDINATE_NOT_A_NUMBER",
      message: `coordinate ${Number(bad[2]) + 1} is ${value} where a number belongs${place}`,
    };
  }
  if (/Position must be/.test(text)) {
    return {
      code: "POSITION_MALFORMED",
      message: `a position is not a list of two or three numbers${place}`,
    };
  }
  if (/at least (two|four)/.test(text)) {
    return {
      code: "TOO_FEW_POSITIONS",
      message: `a ${/two/.test(text) ? "line has fewer than two" : "ring has fewer than four"} positions${place}`,
    };
  }
  const said = text.replaceAll("[object Object]", "an object").slice(0, 200);
  return { code: "FEATURE_MALFORMED", message: `not a GeoJSON feature: ${said}${place}` };
}

/** Rings of a polygon or multipolygon; undefined where the value is neither. */
function ringsOf(geometry: unknown): unknown[][] | undefined {
  const { type, coordinates } = (geometry ?? {}) as { type?: unknown; coordinates?: unknown };
  if (!Array.isArray(coordinates)) return undefined;
  const polygons = type === "Polygon" ? [coordinates] : type === "MultiPolygon" ? coordinates : [];
  const rings: unknown[][] = [];
  for (const polygon of polygons) {
    if (!Array.isArray(polygon)) return undefined;
    for (const ring of polygon) {
      if (!Array.isArray(ring)) return undefined;
      rings.push(ring);
    }
  }
  return rings;
}

/** The validator throws on an empty ring; and a triangle left open has three positions. */
function ringFault(geometry: unknown): FeatureFault | "open triangle" | undefined {
  const rings = ringsOf(geometry);
  if (rings === undefined) return undefined;
  if (rings.some((ring) => ring.length === 0)) {
    return { code: "TOO_FEW_POSITIONS", message: "a ring has no positions" };
  }
  const isOpenTriangle = (ring: unknown[]) =>
    ring.length === 3 && String(ring[0]) !== String(ring[2]);
  return rings.some(isOpenTriangle) && rings.every((r) => r.length > 3 || isOpenTriangle(r))
    ? "open triangle"
    : undefined;
}

const GEOMETRY_TYPES = new Set<unknown>([
  "Point",
  "MultiPoint",
  "LineString",
  "MultiLineString",
  "Polygon",
  "MultiPolygon",
  "GeometryCollection",
]);

/** The validator takes names that every object has, such as `hasOwnProperty`, for types it knows. */
function typeFault(geometry: unknown): FeatureFault | undefined {
  if (typeof geometry !== "object" || geometry === null) return undefined;
  const { type, geometries } = geometry as { type?: unknown; geometries?: unknown };
  if (typeof type === "string" && !GEOMETRY_TYPES.has(type)) {
    return {
      code: "FEATURE_MALFORMED",
      message: `not a GeoJSON feature: no geometry is of type "${type.slice(0, 40)}"`,
    };
  }
  if (!Array.isArray(geometries)) return undefined;
  for (const one of geometries) {
    const fault = typeFault(one);
    if (fault !== undefined) return fault;
  }
  return undefined;
}

/**
 * What geojson-validation finds wrong with a feature, less what is repaired later, in our words.
 * Undefined where the feature can be used.
 */
export function featureFault(feature: unknown): FeatureFault | undefined {
  const { geometry } = (feature ?? {}) as { geometry?: unknown };
  const type = typeFault(geometry);
  if (type !== undefined) return type;
  const rings = ringFault(geometry);
  if (typeof rings === "object") return rings;
  let messages: string[];
  try {
    messages = gjv.isFeature(feature, true);
  } catch {
    // The validator reads the first position of a ring before it knows that there is one.
    return { code: "POSITION_MALFORMED", message: "a position is missing from its coordinates" };
  }
  const serious = messages.filter((message) => {
    const { text } = splitPath(message);
    if (isTolerable(text)) return false;
    return !(rings === "open triangle" && /at least four positions/.test(text));
  });
  const first = serious[0];
  if (first === undefined) return undefined;
  const fault = translate(first);
  const more = serious.length - 1;
  return more === 0 ? fault : { ...fault, message: `${fault.message}, and ${more} more faults` };
}
