import type { DrawnFeature } from "./drawn-plan.ts";

const number = (value: unknown, decimals: number, unit: string) =>
  typeof value === "number" ? `${value.toFixed(decimals)} ${unit}` : "";

const words = (...parts: readonly unknown[]) =>
  parts
    .filter((part) => part !== undefined && part !== null && part !== "")
    .map(String)
    .join(" ");

/** What stands beside a feature in a list or on a drawing; it may hold text of others. */
export function labelOf({
  kind,
  properties: p,
}: Pick<DrawnFeature, "kind" | "properties">): string {
  switch (kind) {
    case "peg":
      return String(p.number ?? "");
    case "guide-peg":
      return words(p.loop, p.number);
    case "boundary-wire":
      return words("Loop", p.loop, number(p.length_m, 2, "m"));
    case "exclusion-loop":
      return String(p.name ?? "");
    case "paired-run":
      return words("Paired run", p.loop, number(p.length_m, 2, "m"));
    case "guide-wire":
      return words("Guide wire", p.loop, number(p.length_m, 2, "m"));
    case "station":
      return words("Station", p.loop);
    case "station-option":
      return words("Place", p.rank, "for station", p.loop);
    case "passage":
      return words("Passage", p.number, number(p.width_m, 2, "m"));
    case "mown-area":
      return words("Mown by", p.loop, number(p.area_m2, 1, "m²"));
    case "cut-off-area":
      return words("Cut off", number(p.area_m2, 1, "m²"));
    case "steep-area":
      return words("Steep", number(p.slope_percent, 0, "%"));
    case "hand-trim":
      return words("Hand trim", number(p.area_m2, 1, "m²"));
    case "edge-fall":
      return words("Ground falls away", number(p.fall_percent, 0, "%"));
    case "finding":
      return String(p.code ?? "");
    default:
      return kind;
  }
}
