import { plainName, projectionString, WEB_MERCATOR, WktParameters } from "./wkt-methods.ts";
import { childOf, findNode, nameOf, numberIn, parseWkt, type WktNode } from "./wkt-tree.ts";

const DEGREES = 180 / Math.PI;
const GEOGRAPHIC = [
  "GEOGCS",
  "GEOGCRS",
  "GEOGRAPHICCRS",
  "GEODCRS",
  "GEODETICCRS",
  "BASEGEOGCRS",
  "BASEGEODCRS",
];
const PROJECTED = ["PROJCS", "PROJCRS", "PROJECTEDCRS"];

/** A system of WKT as a PROJ string, or why it is none. */
export type WktDefinition =
  | { readonly definition: string; readonly degreesPerUnit: number }
  | { readonly methodMissing: string }
  | undefined;

/**
 * WKT 1, ESRI's dialect and WKT 2 as a PROJ string.
 *
 * proj4 has a reader of its own, but in WKT 2 it misses ellipsoids and meridians by hundreds of
 * metres without a word, and it knows neither grads nor south-pointing axes; PROJ strings it reads as
 * PROJ does. Units of parameters: WKT 2 states them one by one; in WKT 1 angles are in the unit of the
 * geographic system, the prime meridian in degrees (as PROJ, GDAL and ESRI write it).
 */
export function wktToProj(text: string): WktDefinition {
  const root = parseWkt(text);
  if (root === undefined) return undefined;
  const projected = findNode(root, ...PROJECTED);
  const geographic = findNode(projected ?? root, ...GEOGRAPHIC);
  const figure = geographic && figureOf(geographic);
  if (geographic === undefined || figure === undefined) return undefined;
  const radiansPerUnit = angleUnitOf(geographic);
  const meridian = meridianOf(geographic, radiansPerUnit);
  if (projected === undefined) {
    const definition = `+proj=longlat ${figure}${meridian} +no_defs`;
    return { definition, degreesPerUnit: radiansPerUnit * DEGREES };
  }
  // GDAL puts the PROJ string beside what WKT 1 cannot say: the sphere of web maps.
  const extension = childOf(projected, "EXTENSION")?.values;
  if (typeof extension?.[1] === "string" && extension[1].includes("+nadgrids=@null")) {
    return { definition: extension[1], degreesPerUnit: 1 };
  }
  const conversion = childOf(projected, "CONVERSION") ?? projected;
  const method = nameOf(childOf(conversion, "METHOD", "PROJECTION"));
  const metres = lengthUnitOf(projected);
  const parameters = parametersOf(conversion, radiansPerUnit * DEGREES, metres);
  const projection = projectionString(method, parameters);
  if (projection === undefined) return { methodMissing: method };
  const isSphere = WEB_MERCATOR.has(plainName(method));
  const axes = /\+axis=/.test(projection) ? "" : axesOf(projected);
  const ellipsoid = isSphere ? "+a=6378137 +b=6378137" : figure;
  const unit = metres === 1 ? "+units=m" : `+to_meter=${metres}`;
  return {
    definition: `${projection} ${ellipsoid}${meridian} ${unit}${axes} +no_defs`,
    degreesPerUnit: 1,
  };
}

/** Ellipsoid and, where the file has one, shift to WGS 84. */
function figureOf(geographic: WktNode): string | undefined {
  const ellipsoid = findNode(geographic, "SPHEROID", "ELLIPSOID");
  const numbers = ellipsoid?.values.filter((value) => typeof value === "number") ?? [];
  const [axis, flattening] = numbers as number[];
  if (axis === undefined || flattening === undefined || !(axis > 0)) return undefined;
  const metres = numberIn(childOf(ellipsoid, "LENGTHUNIT", "UNIT")) ?? 1;
  const shape = flattening === 0 ? `+b=${axis * metres}` : `+rf=${flattening}`;
  const shift = findNode(geographic, "TOWGS84")?.values.filter(
    (value) => typeof value === "number",
  );
  const towgs84 = shift === undefined || shift.length < 3 ? "" : ` +towgs84=${shift.join(",")}`;
  return `+a=${axis * metres} ${shape}${towgs84}`;
}

/** Radians in a unit of the geographic system; degrees where it is not said. */
function angleUnitOf(geographic: WktNode): number {
  const axis = childOf(geographic, "AXIS");
  const unit = childOf(geographic, "UNIT", "ANGLEUNIT") ?? childOf(axis, "UNIT", "ANGLEUNIT");
  return numberIn(unit) ?? 1 / DEGREES;
}

/** Prime meridian in degrees. A value that only grads explain (Paris 2.5969213) is in grads. */
function meridianOf(geographic: WktNode, radiansPerUnit: number): string {
  const node = childOf(geographic, "PRIMEM");
  const value = numberIn(node);
  if (value === undefined || value === 0) return "";
  const unit = numberIn(childOf(node, "ANGLEUNIT", "UNIT"));
  const isWkt1 = geographic.keyword === "GEOGCS";
  const isParisInGrads = Math.abs(value - 2.5969213) < 1e-5;
  const radians =
    unit ?? (isWkt1 ? (isParisInGrads ? Math.PI / 200 : 1 / DEGREES) : radiansPerUnit);
  return ` +pm=${Number((value * radians * DEGREES).toFixed(12))}`;
}

/** Metres in a unit of the projected system. */
function lengthUnitOf(projected: WktNode): number {
  const axis = childOf(projected, "AXIS");
  const unit = childOf(projected, "UNIT", "LENGTHUNIT") ?? childOf(axis, "UNIT", "LENGTHUNIT");
  return numberIn(unit) ?? 1;
}

/** Parameters with angles in degrees and lengths in metres. */
function parametersOf(conversion: WktNode, degrees: number, metres: number): WktParameters {
  const values = new Map<string, number>();
  for (const node of conversion.nodes) {
    if (node.keyword !== "PARAMETER") continue;
    const value = numberIn(node);
    if (value === undefined) continue;
    const name = plainName(nameOf(node));
    const angle = numberIn(childOf(node, "ANGLEUNIT"));
    const length = numberIn(childOf(node, "LENGTHUNIT"));
    const isLength = /^(false|easting|northing)/.test(name);
    const isRatio = /scale/.test(name);
    const factor = isRatio
      ? 1
      : isLength
        ? (length ?? metres)
        : angle === undefined
          ? degrees
          : angle * DEGREES;
    // Twelve decimals: 52 grads are 46.8 degrees, not 46.800000000000004.
    values.set(name, factor === 1 ? value : Number((value * factor).toFixed(12)));
  }
  return new WktParameters(values);
}

/**
 * Axes that point west or south, as PROJ says it. North before east is left out of account: files of
 * the trade hold easting first. So are the axes of polar systems, which all point north, or south.
 */
function axesOf(projected: WktNode): string {
  const directions = projected.nodes
    .filter(({ keyword }) => keyword === "AXIS")
    .map(({ values }) => String(values[1] ?? "").toLowerCase()[0] ?? "")
    .slice(0, 2);
  const along = (letter: string) => /[ns]/.test(letter);
  if (directions.length < 2 || along(directions[0]!) === along(directions[1]!)) return "";
  return directions.some((letter) => letter === "w" || letter === "s")
    ? ` +axis=${directions.join("")}u`
    : "";
}
