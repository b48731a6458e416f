/** Text that has done harm elsewhere goes through every format as text. */
import { expect, it } from "vitest";
import { epsgRegistry } from "../../../cli/epsg-registry.ts";
import { siteGridAt } from "../../../src/crs/site-grid.ts";
import { FORMAT_NAMES, type FormatName } from "../../../src/export/exchange/formats.ts";
import { readPlanFeatures } from "../../../src/jobs/convert-plan.ts";
import { HOSTILE } from "../../escape/hostile.ts";
import { everyKind, exported } from "./plans.ts";

const PLACE = [-28.5, 47.25] as const;
const grid = siteGridAt(PLACE);

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** Text as a format can hold it: no halves of letters in UTF-8, no controls in XML, 254 bytes in dBase. */
function heldIn(format: FormatName, text: string): string {
  // JSON, which a drawing has too, writes them by number.
  if (format === "geojson" || format === "dxf") return text;
  const whole = text.replace(/\p{Cs}/gu, "\ufffd");
  const isControl = (char: string) => /\p{Cc}/u.test(char) && !/[\t\n\r]/.test(char);
  const isC1 = (char: string) => char >= "\u007f" && char <= "\u009f";
  const without = (isGone: (char: string) => boolean) =>
    [...whole].map((char) => (isGone(char) ? "\ufffd" : char)).join("");
  switch (format) {
    case "kml":
    case "kmz":
    case "gpx":
      return without((c) => (isControl(c) && !isC1(c)) || c === "\ufffe" || c === "\uffff");
    case "csv":
      return without(isControl);
    case "shapefile":
      return encoder.encode(whole).length > 254
        ? decoder.decode(encoder.encode(whole).slice(0, 254)).replace(/\ufffd$/, "")
        : whole;
    default:
      return whole;
  }
}

/** Readers of some formats trim; what is left must be the same. */
const trimmed = (text: unknown) =>
  String(text ?? "")
    .replace(/\r\n?/g, "\n")
    .replace(/\0/g, "")
    .trim();

for (const format of FORMAT_NAMES) {
  it(`${format} holds hostile names as text`, async () => {
    for (const text of HOSTILE) {
      const features = everyKind(PLACE, text).filter(
        ({ properties }) => properties.kind === "exclusion-loop",
      );
      const { input } = await exported(features, grid, format, undefined, text);
      const back = await readPlanFeatures(input, { registry: epsgRegistry });
      if (!back.ok) throw new Error(`${JSON.stringify(text)}: ${back.problem.message}`);
      expect(back.value.features, JSON.stringify(text)).toHaveLength(1);
      const { properties } = back.value.features[0]!;
      expect(properties.role).toBe("water");
      expect(properties.length_m).toBe(28);
      expect(trimmed(properties.name)).toBe(trimmed(heldIn(format, text)));
    }
  });
}
