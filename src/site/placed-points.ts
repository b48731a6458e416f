import { areasFromRings } from "../geometry/overlay.ts";
import type { PointM } from "../model/geometry.ts";
import type { Role } from "../model/roles.ts";
import type { PlacedPoint } from "../model/site.ts";
import { textOf } from "./attributes.ts";
import type { Note } from "./notes.ts";
import { flatOf } from "./parts.ts";
import type { RawShape } from "./sort-features.ts";
import { hasHeights } from "./spot-heights.ts";

/** Stations, outlets or control points, in input order; an area stands for its middle. */
export function placedPoints(shapes: readonly RawShape[], role: Role, note: Note): PlacedPoint[] {
  const placed: PlacedPoint[] = [];
  for (const shape of shapes) {
    if (shape.assigned.role !== role) continue;
    const points: PointM[] = shape.points.map((p) => [p[0]!, p[1]!]);
    for (const [ring] of shape.polygons) if (ring) points.push(middleOf(flatOf(ring)));
    const name = textOf(shape.fields, "name");
    for (const atM of points) {
      const number = placed.length + 1;
      placed.push({ name: name ?? `${role} ${number}`, atM, source: shape.source });
    }
    const isContour = role === "control" && hasHeights(shape);
    if (shape.lines.length > 0 && !isContour) {
      const first = shape.lines[0]![0]!;
      note({
        code: "LINE_DOES_NOT_FIT",
        severity: "warning",
        message: `A line with the role ${role} left out: a ${role} is a point.`,
        remedy: "Draw it as a point.",
        atM: [first[0]!, first[1]!],
        ...shape.source,
      });
    }
  }
  return placed;
}

/** Centre of area of a ring; mean of its points where it has no area. */
function middleOf(ring: Float64Array): PointM {
  let [twice, e, n] = [0, 0, 0];
  const [e0, n0] = [ring[0]!, ring[1]!];
  for (const area of areasFromRings([ring], "even-odd")) {
    const shell = area.shell;
    for (let i = 0; i < shell.length; i += 2) {
      const j = (i + 2) % shell.length;
      const [ae, an] = [shell[i]! - e0, shell[i + 1]! - n0];
      const [be, bn] = [shell[j]! - e0, shell[j + 1]! - n0];
      const cross = ae * bn - be * an;
      twice += cross;
      e += (ae + be) * cross;
      n += (an + bn) * cross;
    }
  }
  if (twice !== 0) return [e0 + e / (3 * twice), n0 + n / (3 * twice)];
  return [e0, n0];
}
