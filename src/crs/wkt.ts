/** Small looks into well-known text (WKT 1, ESRI's dialect, WKT 2), beside the reader in wkt-to-proj.ts. */

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

/** EPSG code at the end of the whole system's WKT. */
export function wktEpsgCode(text: string): number | undefined {
  const code = /(?:AUTHORITY|ID)\s*\[\s*"EPSG"\s*,\s*"?(\d+)"?\s*\]\s*\]\s*$/i.exec(text)?.[1];
  return code === undefined ? undefined : Number(code);
}
