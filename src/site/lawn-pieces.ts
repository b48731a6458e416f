import type { SourceRef } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import type { EdgeKind } from "../model/roles.ts";
import type { RepairTolerances } from "../model/site-rules.ts";
import { readAttributes } from "./attributes.ts";
import type { Note } from "./notes.ts";
import { repairPolygon } from "./repair-polygon.ts";
import type { RawShape } from "./sort-features.ts";

/** The lawn of one feature, repaired; lawns of different features may still overlap. */
export interface LawnPiece {
  readonly areas: readonly AreaM[];
  /** What holes of the outline took from its rim: beds beside this lawn. */
  readonly bays: readonly AreaM[];
  readonly name: string;
  readonly named: boolean;
  readonly setinM?: number;
  readonly edgeKind?: EdgeKind;
  readonly source: SourceRef;
}

/** A lawn with the shape it came from. */
export interface Repaired extends LawnPiece {
  readonly shape: RawShape;
}

/** Repairs shapes as lawns; what has nothing left is told and left out. */
export function repairLawns(
  shapes: readonly RawShape[],
  note: Note,
  { spikeWidthM }: RepairTolerances,
): Repaired[] {
  const pieces: Repaired[] = [];
  shapes.forEach((shape, i) => {
    const attributes = readAttributes(shape.fields, shape.source, note);
    const repaired = shape.polygons.map((rings) =>
      repairPolygon(rings, shape.source, note, spikeWidthM),
    );
    const areas = repaired.flatMap((one) => one.areas);
    if (areas.length === 0) return;
    const edgeKind = attributes.edgeKind ?? shape.assigned.edgeKind;
    pieces.push({
      areas,
      bays: repaired.flatMap((one) => one.bays),
      name: attributes.name ?? `lawn ${i + 1}`,
      named: attributes.name !== undefined,
      ...(attributes.setinM !== undefined && { setinM: attributes.setinM }),
      ...(edgeKind && { edgeKind }),
      source: shape.source,
      shape,
    });
  });
  return pieces;
}
