/**
 * How what is already on the site is drawn: after common drawing practice, in tints of one palette.
 * Hatches, dots and outlines differ, so that it reads in black and white.
 */
import type { EdgeKind, Role } from "../../model/roles.ts";
import type { StrokeMm } from "../sheet/scene.ts";
import { PALETTE } from "./palette.ts";

const { black, skyBlue, blue, orange, green, vermilion } = PALETTE;

const GREY = "#767676";
const SOIL = "#8a6200";

export interface SiteStyle {
  readonly stroke: StrokeMm;
  readonly fill?: { readonly colour: string; readonly opacity: number };
  readonly hatch?: {
    readonly colour: string;
    readonly spacingMm: number;
    readonly anglesDeg: readonly number[];
  };
  readonly dots?: { readonly colour: string; readonly spacingMm: number; readonly sizeMm: number };
}

const outline = (colour: string, widthMm: number, dashMm?: readonly number[]): StrokeMm => ({
  colour,
  widthMm,
  dashMm,
});

export const SITE_STYLES: Readonly<
  Record<Exclude<Role, "lawn" | "edge" | "station" | "outlet" | "control" | "ignore">, SiteStyle>
> = {
  bed: {
    stroke: outline(SOIL, 0.18),
    fill: { colour: orange, opacity: 0.22 },
    dots: { colour: SOIL, spacingMm: 1.8, sizeMm: 0.3 },
  },
  water: {
    stroke: outline(blue, 0.25),
    fill: { colour: skyBlue, opacity: 0.4 },
    hatch: { colour: blue, spacingMm: 1.4, anglesDeg: [0] },
  },
  gravel: {
    stroke: outline(GREY, 0.18),
    fill: { colour: GREY, opacity: 0.1 },
    dots: { colour: GREY, spacingMm: 1, sizeMm: 0.2 },
  },
  paving: {
    stroke: outline(GREY, 0.18),
    fill: { colour: GREY, opacity: 0.12 },
    hatch: { colour: GREY, spacingMm: 2.4, anglesDeg: [0, 90] },
  },
  building: {
    stroke: outline(black, 0.5),
    fill: { colour: GREY, opacity: 0.35 },
    hatch: { colour: black, spacingMm: 2.4, anglesDeg: [45] },
  },
  firm: { stroke: outline(black, 0.35), fill: { colour: GREY, opacity: 0.6 } },
  tree: {
    stroke: outline(green, 0.35),
    fill: { colour: green, opacity: 0.3 },
    hatch: { colour: green, spacingMm: 1, anglesDeg: [45, 135] },
  },
  "keep-out": {
    stroke: outline(vermilion, 0.35, [2, 1]),
    fill: { colour: vermilion, opacity: 0.1 },
    hatch: { colour: vermilion, spacingMm: 2.4, anglesDeg: [135] },
  },
};

export const LAWN_EDGE: StrokeMm = outline(black, 0.25);

/** Lines that tell what the lawn's edge is. */
export const EDGE_STROKES: Readonly<Record<EdgeKind, StrokeMm>> = {
  open: outline(GREY, 0.35, [0.5, 1]),
  wall: outline(black, 0.8),
  fence: outline(black, 0.5, [4, 0.8, 0.8, 0.8]),
  hedge: outline(green, 0.9, [1.2, 0.6]),
  kerb: outline(GREY, 0.7),
  flush: outline(GREY, 0.5, [3, 1]),
  water: outline(blue, 0.6, [2, 0.8]),
  drop: outline(vermilion, 0.8, [1, 0.6]),
};

export const GREY_INK = GREY;
