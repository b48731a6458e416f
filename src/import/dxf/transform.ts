import type { Point3 } from "../chords.ts";

/** An affine map of space: three rows of four. */
export type Affine = readonly [
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
];

export const IDENTITY: Affine = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

export function apply(m: Affine, [x, y, z]: Point3): Point3 {
  return [
    m[0] * x + m[1] * y + m[2] * z + m[3],
    m[4] * x + m[5] * y + m[6] * z + m[7],
    m[8] * x + m[9] * y + m[10] * z + m[11],
  ];
}

/** First `b`, then `a`. */
export function compose(a: Affine, b: Affine): Affine {
  const row = (i: 0 | 4 | 8) => {
    const [p, q, r, s] = [a[i], a[i + 1]!, a[i + 2]!, a[i + 3]!];
    return [
      p * b[0] + q * b[4] + r * b[8],
      p * b[1] + q * b[5] + r * b[9],
      p * b[2] + q * b[6] + r * b[10],
      p * b[3] + q * b[7] + r * b[11] + s,
    ] as const;
  };
  return [...row(0), ...row(4), ...row(8)];
}

/** How much the map stretches at most along the axes of the plan. */
export function stretch(m: Affine): number {
  return Math.max(Math.hypot(m[0], m[4], m[8]), Math.hypot(m[1], m[5], m[9]), Number.MIN_VALUE);
}

/**
 * From an entity's own plane to the drawing's space, by the DXF reference's "arbitrary axis
 * algorithm": its x axis is Y × N where N is nearly upright (within 1/64), else Z × N.
 */
export function planeToSpace(facing: Point3): Affine {
  const length = Math.hypot(...facing);
  if (!(length > 0)) return IDENTITY;
  const n = facing.map((value) => value / length) as unknown as Point3;
  if (n[0] === 0 && n[1] === 0 && n[2] > 0) return IDENTITY;
  const near = Math.abs(n[0]) < 1 / 64 && Math.abs(n[1]) < 1 / 64;
  const x = unit(cross(near ? [0, 1, 0] : [0, 0, 1], n));
  const y = unit(cross(n, x));
  return [x[0], y[0], n[0], 0, x[1], y[1], n[1], 0, x[2], y[2], n[2], 0];
}

export function cross(a: Point3, b: Point3): Point3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function unit(v: Point3): Point3 {
  const length = Math.hypot(...v);
  return [v[0] / length, v[1] / length, v[2] / length];
}

/** Moved, turned by degrees about the upright axis and scaled: where a block is placed. */
export function placement(at: Point3, rotationDeg: number, scale: Point3, base: Point3): Affine {
  const angle = (rotationDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const turn: Affine = [
    c * scale[0],
    -s * scale[1],
    0,
    at[0],
    s * scale[0],
    c * scale[1],
    0,
    at[1],
    0,
    0,
    scale[2],
    at[2],
  ];
  return compose(turn, [1, 0, 0, -base[0], 0, 1, 0, -base[1], 0, 0, 1, -base[2]]);
}
