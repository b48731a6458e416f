/**
 * A sheet as a list of shapes in millimetres of paper: x to the right, y down, from the upper left
 * corner. What draws it (PDF, SVG) decides nothing.
 */

export interface BoxMm {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface StrokeMm {
  /** `#rrggbb`. */
  readonly colour: string;
  readonly widthMm: number;
  readonly dashMm?: readonly number[] | undefined;
  /** Whether ends and corners are round; else butt ends and mitred corners. */
  readonly round?: boolean | undefined;
}

export interface FillMm {
  readonly colour: string;
  /** 0 for none, 1 for covering; 1 where left out. */
  readonly opacity?: number | undefined;
}

/** Points `x0, y0, x1, y1, …`; a closed one does not repeat its first. */
export interface LineMm {
  readonly points: Float64Array | readonly number[];
  readonly closed?: boolean | undefined;
}

/** Lines with one look. Areas are filled by the even-odd rule over all of them. */
export interface PathShape {
  readonly kind: "path";
  readonly lines: readonly LineMm[];
  readonly stroke?: StrokeMm | undefined;
  readonly fill?: FillMm | undefined;
}

/** One line of text on its base line. */
export interface TextShape {
  readonly kind: "text";
  readonly text: string;
  /** Where it is anchored, on the base line. */
  readonly x: number;
  readonly y: number;
  /** Size of the letters, em. */
  readonly sizeMm: number;
  readonly bold?: boolean | undefined;
  readonly colour?: string | undefined;
  readonly anchor?: "start" | "middle" | "end" | undefined;
  /** Turned anticlockwise about its anchor. */
  readonly angleDeg?: number | undefined;
}

/** A picture, laid on the paper by an affine map. */
export interface ImageShape {
  readonly kind: "image";
  readonly format: "png" | "jpeg";
  readonly bytes: Uint8Array;
  /** Maps (u, v), 0 to 1 from the picture's upper left corner, to `[a u + c v + e, b u + d v + f]`. */
  readonly matrix: readonly [a: number, b: number, c: number, d: number, e: number, f: number];
}

/** Shapes that belong together, perhaps shown inside a box only. */
export interface GroupShape {
  readonly kind: "group";
  /** Plain word, for layers of programs that edit the drawing. */
  readonly name: string;
  readonly clip?: BoxMm | undefined;
  readonly items: readonly Shape[];
}

export type Shape = PathShape | TextShape | ImageShape | GroupShape;

/** One page. */
export interface Sheet {
  readonly title: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly items: readonly Shape[];
}

/** All texts of some shapes, of groups too. */
export function textsOf(items: readonly Shape[]): TextShape[] {
  return items.flatMap((item) => {
    if (item.kind === "text") return [item];
    return item.kind === "group" ? textsOf(item.items) : [];
  });
}

export const line = (points: LineMm["points"], stroke: StrokeMm, closed = false): PathShape => ({
  kind: "path",
  lines: [{ points, closed }],
  stroke,
});

/** A box with a stroke, a fill or both. */
export function boxShape(box: BoxMm, look: Pick<PathShape, "stroke" | "fill">): PathShape {
  const { left, top, right, bottom } = box;
  const points = [left, top, right, top, right, bottom, left, bottom];
  return { kind: "path", lines: [{ points, closed: true }], ...look };
}

/** A circle as a polygon whose chords lie within 5 µm of it. */
export function disc(x: number, y: number, radiusMm: number): LineMm {
  const corners = Math.max(12, Math.ceil(Math.PI / Math.acos(1 - Math.min(0.5, 0.005 / radiusMm))));
  const points = new Float64Array(2 * corners);
  for (let i = 0; i < corners; i++) {
    const angle = (2 * Math.PI * i) / corners;
    points[2 * i] = x + radiusMm * Math.cos(angle);
    points[2 * i + 1] = y + radiusMm * Math.sin(angle);
  }
  return { points, closed: true };
}

export const group = (name: string, items: readonly Shape[], clip?: BoxMm): GroupShape => ({
  kind: "group",
  name,
  items,
  ...(clip && { clip }),
});
