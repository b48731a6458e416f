/** Hatches and dots over areas, as lines of the drawing itself. */
import { rowCrossings } from "../../geometry/row-crossings.ts";
import { cutSegment, grown, inside } from "./plot.ts";
import type { BoxMm, LineMm } from "./scene.ts";

/** Parallel lines inside rings (even-odd), seen in a window. Lines of all areas are in step. */
export function hatchLines(
  rings: readonly LineMm[],
  window: BoxMm,
  spacingMm: number,
  angleDeg: number,
): LineMm[] {
  const out: LineMm[] = [];
  const box = grown(window, 1);
  forRows(rings, window, spacingMm, angleDeg, (from, to, y, back) => {
    const part = cutSegment(...back(from, y), ...back(to, y), box);
    if (part && Math.hypot(part[2] - part[0], part[3] - part[1]) > 0.1) out.push({ points: part });
  });
  return out;
}

/** Dots in rows, every second row half a step on, as very short lines for round ends. */
export function dotLines(rings: readonly LineMm[], window: BoxMm, spacingMm: number): LineMm[] {
  const out: LineMm[] = [];
  forRows(rings, window, spacingMm * 0.866, 0, (from, to, y, back, row) => {
    const shift = row % 2 === 0 ? 0 : spacingMm / 2;
    const first = Math.ceil((from + 0.2 - shift) / spacingMm);
    for (let k = first; k * spacingMm + shift < to - 0.2; k++) {
      const [x, py] = back(k * spacingMm + shift, y);
      if (inside([x, py], window)) out.push({ points: [x, py, x + 0.01, py] });
    }
  });
  return out;
}

type Back = (x: number, y: number) => [number, number];

function forRows(
  rings: readonly LineMm[],
  window: BoxMm,
  spacingMm: number,
  angleDeg: number,
  visit: (from: number, to: number, y: number, back: Back, row: number) => void,
): void {
  if (rings.length === 0) return;
  const angle = (-angleDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const back: Back = (x, y) => [x * cos - y * sin, x * sin + y * cos];
  const turned = rings.map(({ points }) => {
    const out = new Float64Array(points.length);
    for (let i = 0; i < points.length; i += 2) {
      out[i] = points[i]! * cos + points[i + 1]! * sin;
      out[i + 1] = -points[i]! * sin + points[i + 1]! * cos;
    }
    return out;
  });
  const corners = [
    [window.left, window.top],
    [window.right, window.top],
    [window.right, window.bottom],
    [window.left, window.bottom],
  ].map(([x, y]) => -x! * sin + y! * cos);
  let [low, high] = [Infinity, -Infinity];
  for (const ring of turned) {
    for (let i = 1; i < ring.length; i += 2) {
      low = Math.min(low, ring[i]!);
      high = Math.max(high, ring[i]!);
    }
  }
  const firstRow = Math.floor(Math.max(low, Math.min(...corners)) / spacingMm);
  const lastRow = Math.ceil(Math.min(high, Math.max(...corners)) / spacingMm);
  const count = lastRow - firstRow;
  if (count <= 0) return;
  const rows = { southM: firstRow * spacingMm, heightM: spacingMm, count };
  rowCrossings(turned, rows).forEach((crossings, i) => {
    const y = (firstRow + i + 0.5) * spacingMm;
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      visit(crossings[k]!, crossings[k + 1]!, y, back, Math.abs(firstRow + i));
    }
  });
}
