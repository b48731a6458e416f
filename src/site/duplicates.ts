import type { Position } from "geojson";
import { edgeKindOf } from "./attributes.ts";
import { counted, listed, type Note } from "./notes.ts";
import type { RawShape } from "./sort-features.ts";

/** What else two features on one place may say without being one another's copy. */
const GROUND_FIELDS = ["wire", "run_cost", "slope_percent"];

/**
 * The first of each set of shapes with equal vertices (to a millimetre, in any order and winding)
 * and one role: what stands in two files, or twice in one, is there once.
 */
export function withoutDuplicates(shapes: readonly RawShape[], note: Note): RawShape[] {
  const seen = new Set<string>();
  const left: RawShape[] = [];
  const dropped: RawShape[] = [];
  for (const shape of shapes) {
    const { role, umbrella, edgeKind } = shape.assigned;
    const kind = edgeKindOf(shape.fields.get("edge") ?? "") ?? edgeKind ?? "";
    const said = GROUND_FIELDS.map((field) => shape.fields.get(field) ?? "").join(" ");
    const key = `${shape.shape} ${role} ${umbrella ?? ""} ${kind} ${said} ${fingerprint(shape)}`;
    if (seen.has(key)) dropped.push(shape);
    else left.push(shape);
    seen.add(key);
  }
  const first = dropped[0];
  if (first) {
    const [e, n] = positionsOf(first)[0]!;
    note({
      code: "DUPLICATE_FEATURES",
      severity: "warning",
      message: `${counted(dropped.length, "feature")} drawn a second time on the same place left out: ${listed(dropped.map((shape) => shape.source.feature ?? ""))}.`,
      remedy: "Remove the copies from the files.",
      atM: [e!, n!],
      ...first.source,
    });
  }
  return left;
}

function positionsOf(shape: RawShape): Position[] {
  return [...shape.polygons.flat(2), ...shape.lines.flat(), ...shape.points];
}

function fingerprint(shape: RawShape): string {
  const vertices = new Set<string>();
  for (const [e, n] of positionsOf(shape)) {
    vertices.add(`${Math.round(e! * 1000)},${Math.round(n! * 1000)}`);
  }
  return [...vertices].sort().join(" ");
}
