import type { PointM } from "../model/geometry.ts";
import { counted, listed, type Note } from "./notes.ts";
import type { RawShape } from "./sort-features.ts";

/** Assumptions of one kind that are told once, with a count and the first place. */
type Code =
  | "LINE_WIDTH_ASSUMED"
  | "LINE_DOES_NOT_FIT"
  | "POINT_SIZE_ASSUMED"
  | "POINT_DOES_NOT_FIT"
  | "TREE_TRUNK_ASSUMED"
  | "TREE_AREA_WIDE";

interface Entry {
  readonly code: Code;
  readonly sort: string;
  readonly figureM: number;
  readonly first: { readonly shape: RawShape; readonly atM: PointM };
  readonly names: string[];
}

/** Gathers assumptions while things are made, and tells them at the end. */
export class Tally {
  private readonly entries = new Map<string, Entry>();

  add(code: Code, sort: string, shape: RawShape, atM: PointM, figureM = 0): void {
    const key = code === "TREE_AREA_WIDE" ? code : `${code} ${sort} ${figureM}`;
    const name = shape.source.feature ?? "";
    const entry = this.entries.get(key);
    if (entry) entry.names.push(name);
    else this.entries.set(key, { code, sort, figureM, first: { shape, atM }, names: [name] });
  }

  tell(note: Note): void {
    for (const { code, sort, figureM, first, names } of this.entries.values()) {
      const count = names.length;
      note({
        code,
        severity: code.endsWith("_DOES_NOT_FIT") || code === "TREE_AREA_WIDE" ? "warning" : "info",
        ...TEXTS[code](count, sort, figureM, listed(names)),
        atM: first.atM,
        ...first.shape.source,
      });
    }
  }
}

type Text = (
  count: number,
  sort: string,
  figureM: number,
  names: string,
) => { message: string; remedy: string };

const TEXTS: Readonly<Record<Code, Text>> = {
  LINE_WIDTH_ASSUMED: (count, sort, figureM) => ({
    message: `${counted(count, "line")} (${sort}) without width taken as ${figureM.toFixed(2)} m wide.`,
    remedy: "Give the attribute width in metres.",
  }),
  LINE_DOES_NOT_FIT: (count, sort, _, names) => ({
    message: `${counted(count, "line")} with the role ${sort} left out, since a line cannot be one: ${names}.`,
    remedy: `Draw ${sort} as an area that is closed, or give width in metres.`,
  }),
  POINT_SIZE_ASSUMED: (count, sort, figureM) => ({
    message: `${counted(count, "point")} (${sort}) without size taken as ${figureM.toFixed(2)} m across.`,
    remedy: "Give the attribute diameter_m.",
  }),
  POINT_DOES_NOT_FIT: (count, sort, _, names) => ({
    message: `${counted(count, "point")} with the role ${sort} left out, since a point cannot be one: ${names}.`,
    remedy: `Draw ${sort} as an area, or give diameter_m.`,
  }),
  TREE_TRUNK_ASSUMED: (count, _, figureM) => ({
    message: `${counted(count, "tree")} without a trunk size taken as grown, ${figureM.toFixed(2)} m across; a grown trunk needs no wire.`,
    remedy:
      "Give diameter_m for thin trunks, and soil_radius_m where bare soil lies round a trunk.",
  }),
  TREE_AREA_WIDE: (count, _, figureM, names) => ({
    message: `${counted(count, "tree")} drawn wider than a trunk, the first ${figureM.toFixed(1)} m across: ${names}. The whole area was kept out of the lawn.`,
    remedy: "Draw the trunk, not the crown: the machine mows under it.",
  }),
};
