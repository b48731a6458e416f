import type { Position } from "geojson";
import type { GridLayer } from "../model/features.ts";
import { lengthM } from "./lengths.ts";
import type { RawShape } from "./sort-features.ts";

/** Attributes in which contour lines have their height, where their positions have none. */
const HEIGHT_FIELDS = ["elevation", "elev", "ele", "z", "contour"];

/** Along lines a height is taken this often at least, so that the network follows them, metres. */
const ALONG_M = 1;

/** Whether a line has heights: then it may be a control feature. */
export const hasHeights = (shape: RawShape): boolean =>
  shape.lines.every((line) => line.every((at) => Number.isFinite(heightOf(at, shape))));

/**
 * Heights of the ground from features with the role control: points, and lines such as contours.
 *
 * @returns east, north, height, … in metres; undefined below three, or where all are 0, as
 *   programs write what they do not know
 */
export function spotHeights(
  shapes: readonly RawShape[],
  layers: readonly GridLayer[],
): Float64Array | undefined {
  const unitOf = new Map(layers.map((one) => [`${one.file}\n${one.layer}`, one.heightUnitM ?? 1]));
  const spots: number[] = [];
  for (const shape of shapes) {
    if (shape.assigned.role !== "control") continue;
    const unitM = unitOf.get(`${shape.source.file}\n${shape.source.layer}`) ?? 1;
    const take = (e: number, n: number, height: number) => {
      if (Number.isFinite(height)) spots.push(e, n, height * unitM);
    };
    for (const at of shape.points) take(at[0]!, at[1]!, heightOf(at, shape));
    const lines = [...shape.lines, ...shape.polygons.flat()];
    for (const line of lines) alongLine(line, shape, take);
  }
  const isKnown = spots.some((value, i) => i % 3 === 2 && value !== 0);
  return spots.length >= 9 && isKnown ? Float64Array.from(spots) : undefined;
}

function alongLine(
  line: readonly Position[],
  shape: RawShape,
  take: (e: number, n: number, height: number) => void,
): void {
  line.forEach((b, i) => {
    const a = line[i - 1];
    const [be, bn, bz] = [b[0]!, b[1]!, heightOf(b, shape)];
    if (a) {
      const [ae, an, az] = [a[0]!, a[1]!, heightOf(a, shape)];
      const cuts = Math.ceil(Math.hypot(be - ae, bn - an) / ALONG_M);
      for (let k = 1; k < cuts; k++) {
        const share = k / cuts;
        take(ae + share * (be - ae), an + share * (bn - an), az + share * (bz - az));
      }
    }
    take(be, bn, bz);
  });
}

/** Third number of a position, else the feature's attribute; NaN where neither is there. */
function heightOf(at: Position, { fields }: RawShape): number {
  if (at.length > 2) return at[2]!;
  const key = HEIGHT_FIELDS.find((name) => fields.has(name));
  return (key === undefined ? undefined : lengthM(fields.get(key))) ?? Number.NaN;
}
