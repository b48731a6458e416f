/** Small looks into well-known text (WKT 1, ESRI's dialect, WKT 2), beside proj4's own parser. */

const HORIZONTAL = /\b(PROJCS|PROJCRS|PROJECTEDCRS|GEOGCS|GEOGCRS|GEODCRS|GEODETICCRS)\s*[[(]/i;

/** True for text that is WKT rather than a PROJ string or a name. */
export function isWkt(text: string): boolean {
  return /^\s*[A-Z_]+\s*[[(]/i.test(text);
}

/**
 * The horizontal part of WKT: what is left of a compound system without its heights, or of a .prj to
 * which a vertical system was appended. Undefined where there is none, e.g. a local system.
 */
export function horizontalWkt(text: string): string | undefined {
  const start = HORIZONTAL.exec(text);
  if (start === null) return undefined;
  let depth = 0;
  let quoted = false;
  for (let i = start.index; i < text.length; i++) {
    const char = text[i];
    if (char === '"') quoted = !quoted;
    if (quoted) continue;
    if (char === "[" || char === "(") depth++;
    if ((char === "]" || char === ")") && --depth === 0) return text.slice(start.index, i + 1);
  }
  return undefined;
}

/** First quoted name after a keyword, e.g. `D_OSGB_1936` for DATUM. */
export function wktName(text: string, ...keywords: string[]): string | undefined {
  const found = new RegExp(`\\b(?:${keywords.join("|")})\\s*[[(]\\s*"([^"]*)"`, "i").exec(text);
  return found?.[1];
}

/** Radians in one unit of the geographic system, for WKT 1; undefined where it is not said. */
export function wktRadiansPerUnit(text: string): number | undefined {
  const start = /\bGEOGCS\s*[[(]/i.exec(text);
  if (start === null) return undefined;
  const geographic = horizontalWkt(text.slice(start.index)) ?? "";
  const units = [...geographic.matchAll(/\bUNIT\s*[[(]\s*"[^"]*"\s*,\s*([\d.eE+-]+)/gi)];
  const last = units.at(-1)?.[1];
  return last === undefined ? undefined : Number(last);
}

/** EPSG code at the end of the whole system's WKT. */
export function wktEpsgCode(text: string): number | undefined {
  const code = /(?:AUTHORITY|ID)\s*\[\s*"EPSG"\s*,\s*"?(\d+)"?\s*\]\s*\]\s*$/i.exec(text)?.[1];
  return code === undefined ? undefined : Number(code);
}

/** A number among the parameters, by any of its names in the dialects. */
function parameter(text: string, ...names: string[]): number | undefined {
  const found = new RegExp(
    `\\bPARAMETER\\s*[[(]\\s*"(?:${names.join("|")})"\\s*,\\s*([\\d.eE+-]+)`,
    "i",
  ).exec(text);
  return found === null ? undefined : Number(found[1]);
}

/** Parameters of an oblique Mercator system about its centre; undefined for other projections. */
function obliqueMercator(text: string) {
  const method = wktName(text, "PROJECTION", "METHOD");
  if (method === undefined || !/oblique[_ ]mercator/i.test(method)) return undefined;
  return {
    azimuth: parameter(text, "azimuth", "Azimuth of initial line", "Azimuth at projection centre"),
    lat: parameter(text, "latitude_of_center", "Latitude of projection centre"),
    lon: parameter(text, "longitude_of_center", "Longitude of projection centre"),
    scale: parameter(text, "scale_factor", "Scale factor (?:on|at) [a-z ]+"),
    x: parameter(text, "false_easting", "Easting at projection centre"),
    y: parameter(text, "false_northing", "Northing at projection centre"),
  };
}

/**
 * The Swiss form of oblique Mercator (azimuth 90°) as a PROJ string: proj4 computes it to a
 * millimetre only under its own name. The WKT for other projections, as it is. Undefined for oblique
 * Mercator in WKT 2, which proj4 misreads by kilometres.
 */
export function withSwissMercator(text: string): string | undefined {
  const oblique = obliqueMercator(text);
  if (oblique === undefined) return text;
  const { azimuth, lat, lon, scale, x, y } = oblique;
  const spheroid = /\b(?:SPHEROID|ELLIPSOID)\s*[[(]\s*"[^"]*"\s*,\s*([\d.]+)\s*,\s*([\d.]+)/i.exec(
    text,
  );
  const known = [lat, lon, x, y].every((value) => value !== undefined) && spheroid !== null;
  if (azimuth !== undefined && Math.abs(azimuth - 90) < 1e-9 && known) {
    return `+proj=somerc +lat_0=${lat} +lon_0=${lon} +k_0=${scale ?? 1} +x_0=${x} +y_0=${y} +a=${spheroid[1]} +rf=${spheroid[2]} +units=m +no_defs`;
  }
  return /^\s*PROJ(?:ECTED)?CRS\b/i.test(text) ? undefined : text;
}
