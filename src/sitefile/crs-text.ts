/**
 * A reference system as people write it: `EPSG:27700`, `27700`, a PROJ string, WKT. An EPSG code
 * comes back as a number; undefined where it is none of these.
 */
export function parseCrsText(text: string | number): number | string | undefined {
  if (typeof text === "number") return Number.isInteger(text) ? text : undefined;
  const code = /^\s*(?:epsg:{1,2})?(\d{4,6})\s*$/i.exec(text)?.[1];
  if (code !== undefined) return Number(code);
  return /^\s*\+(proj|init)=/.test(text) || /^\s*[A-Z_]+\s*\[/i.test(text) ? text : undefined;
}
