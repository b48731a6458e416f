/**
 * How each kind of feature of a plan is drawn, the same in every format and on every sheet.
 *
 * Colour is never the only sign: among lines width or dash differs, among areas the hatch, among
 * points the shape, so that a plan reads in black and white too. All sizes are millimetres on paper.
 */
import { type Colour, PALETTE } from "./palette.ts";

export interface Stroke {
  readonly colour: Colour;
  readonly widthMm: number;
  /** Mark, gap, mark, gap …; left out for a solid line. */
  readonly dashMm?: readonly number[];
}

/** Parallel lines over an area. */
export interface Hatch {
  readonly colour: Colour;
  readonly widthMm: number;
  readonly spacingMm: number;
  /** Directions of the lines, degrees anticlockwise from the horizontal; two for a cross hatch. */
  readonly anglesDeg: readonly number[];
}

export interface Fill {
  readonly colour: Colour;
  /** 0 for none, 1 for covering. */
  readonly opacity: number;
  readonly hatch?: Hatch;
}

export const MARKER_SHAPES = ["circle", "square", "triangle", "diamond", "cross"] as const;
export type MarkerShape = (typeof MARKER_SHAPES)[number];

export interface Marker {
  readonly shape: MarkerShape;
  /** Width over all. */
  readonly sizeMm: number;
  readonly fill: Colour;
  readonly stroke: Stroke;
}

/** A line has a stroke, an area a fill and perhaps a stroke, a point a marker. */
export interface FeatureStyle {
  /** For a legend, in the language of the program. */
  readonly label: string;
  readonly stroke?: Stroke;
  readonly fill?: Fill;
  readonly marker?: Marker;
}

const { black, white, orange, skyBlue, green, yellow, blue, vermilion, purple } = PALETTE;

const hatch = (colour: Colour, spacingMm: number, ...anglesDeg: number[]): Hatch => ({
  colour,
  widthMm: 0.13,
  spacingMm,
  anglesDeg,
});

const marker = (shape: MarkerShape, sizeMm: number, fill: Colour, outline: Colour): Marker => ({
  shape,
  sizeMm,
  fill,
  stroke: { colour: outline, widthMm: 0.25 },
});

/** Styles by name, in the order in which they are drawn: what comes later lies on top. */
export const PLAN_STYLES = {
  "mown-area": { label: "mown area", fill: { colour: green, opacity: 0.15 } },
  "hand-trim": {
    label: "hand-trim strip",
    fill: { colour: yellow, opacity: 0.6, hatch: hatch(black, 1.2, 135) },
  },
  "cut-off-area": {
    label: "cut-off area",
    stroke: { colour: purple, widthMm: 0.25 },
    fill: { colour: purple, opacity: 0.3, hatch: hatch(purple, 2, 45, 135) },
  },
  "steep-area": {
    label: "too steep for the machine",
    stroke: { colour: vermilion, widthMm: 0.25, dashMm: [1.5, 0.75] },
    fill: { colour: vermilion, opacity: 0.15, hatch: hatch(vermilion, 1.5, 0) },
  },
  "exclusion-loop": {
    label: "exclusion loop",
    fill: { colour: orange, opacity: 0.25, hatch: hatch(orange, 2, 45) },
  },
  "edge-fall": {
    label: "ground falls away beyond the edge",
    stroke: { colour: vermilion, widthMm: 1, dashMm: [0.5, 1] },
  },
  "passage-mow": {
    label: "passage, mown",
    stroke: { colour: purple, widthMm: 0.25 },
  },
  "passage-drive": {
    label: "passage, driven through",
    stroke: { colour: purple, widthMm: 0.35, dashMm: [3, 1] },
  },
  "passage-shut": {
    label: "passage, shut",
    stroke: { colour: vermilion, widthMm: 0.35, dashMm: [1, 1] },
  },
  "boundary-wire": { label: "boundary wire", stroke: { colour: blue, widthMm: 0.5 } },
  "paired-run": {
    label: "paired run (two wires)",
    stroke: { colour: skyBlue, widthMm: 0.7, dashMm: [2, 2] },
  },
  "guide-wire": {
    label: "guide wire",
    stroke: { colour: green, widthMm: 0.5, dashMm: [4, 1, 0.5, 1] },
  },
  peg: { label: "peg", marker: marker("circle", 1.2, white, black) },
  "guide-peg": { label: "peg of a guide wire", marker: marker("triangle", 1.5, white, green) },
  station: { label: "station", marker: marker("square", 4, blue, black) },
  "station-option": {
    label: "another place for the station",
    marker: marker("square", 2.5, white, blue),
  },
  "finding-info": { label: "note", marker: marker("cross", 2, white, black) },
  "finding-warning": { label: "warning", marker: marker("diamond", 2.5, yellow, black) },
  "finding-error": { label: "error", marker: marker("diamond", 4, vermilion, black) },
} as const satisfies Readonly<Record<string, FeatureStyle>>;

export type StyleName = keyof typeof PLAN_STYLES;

/** Names of the styles, in drawing order. */
export const STYLE_NAMES = Object.keys(PLAN_STYLES) as StyleName[];

export function styleNamed(name: StyleName): FeatureStyle {
  return PLAN_STYLES[name];
}

/**
 * The style of a feature of `plan.geojson`: by its kind, passages by verdict, findings by severity.
 *
 * @returns undefined for a kind that has no style
 */
export function styleNameOf(properties: Readonly<Record<string, unknown>>): StyleName | undefined {
  const kind = String(properties.kind);
  const name =
    kind === "passage"
      ? `passage-${properties.verdict}`
      : kind === "finding"
        ? `finding-${properties.severity}`
        : kind;
  return Object.hasOwn(PLAN_STYLES, name) ? (name as StyleName) : undefined;
}
