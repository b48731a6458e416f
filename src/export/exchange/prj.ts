import type { TargetCrs } from "./target-crs.ts";

/**
 * Text of a `.prj`: WKT 1 on one line, without axes and extensions, which its readers do not expect:
 * coordinates in such files are easting or longitude first whatever the system's own order.
 */
export function prjText({ wkt }: TargetCrs): string {
  let text = wkt.replace(/\s*\n\s*/g, "");
  const part = /,(?:AXIS|EXTENSION)\[(?:"[^"]*"|[^[\]"])*\]/g;
  text = text.replace(part, "");
  return text;
}
