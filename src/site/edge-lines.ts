import type { EdgeIndex } from "../geometry/edge-index.ts";
import type { LineM } from "../model/geometry.ts";
import type { EdgeKind } from "../model/roles.ts";
import type { EdgeLine } from "../model/site.ts";
import { readAttributes } from "./attributes.ts";
import { cleanLine } from "./clean-line.ts";
import { cleanRing } from "./clean-ring.ts";
import type { Note } from "./notes.ts";
import { flatOf } from "./parts.ts";
import type { RawShape } from "./sort-features.ts";

/** Upright things that, drawn as lines, tell what the lawn edge beside them is. */
export const UPRIGHT: ReadonlySet<EdgeKind> = new Set<EdgeKind>(["wall", "fence", "hedge", "kerb"]);

/** Edge lines from the lines, or the outlines, of a feature with an edge kind. */
export function edgeLinesOf(
  shape: RawShape,
  fallback: EdgeKind | undefined,
  note: Note,
): EdgeLine[] {
  const attributes = readAttributes(shape.fields, shape.source, note);
  const kind = attributes.edgeKind ?? shape.assigned.edgeKind ?? fallback;
  if (!kind) {
    const first = shape.lines[0]?.[0] ?? shape.polygons[0]?.[0]?.[0];
    note({
      code: "EDGE_WITHOUT_KIND",
      severity: "warning",
      message: "An edge line does not say what kind of edge it is; it was taken as open.",
      remedy: "Give the attribute edge: wall, fence, hedge, kerb, flush, water, drop or open.",
      ...(first && { atM: [first[0]!, first[1]!] as const }),
      ...shape.source,
    });
  }
  return linesOf(shape).map((line) => ({
    kind: kind ?? "open",
    line,
    ...(attributes.setinM !== undefined && { setinM: attributes.setinM }),
    ...(attributes.heightM !== undefined && { heightM: attributes.heightM }),
    ...(attributes.isPublic && { isPublic: true }),
    source: shape.source,
  }));
}

/** Lines as they are; rings closed by repeating their first vertex. */
function linesOf(shape: RawShape): LineM[] {
  const lines = shape.lines.map((line) => cleanLine(flatOf(line)));
  const rings = shape.polygons.flat().map((ring) => {
    const { ring: clean } = cleanRing(flatOf(ring));
    const closed = new Float64Array(clean.length + 2);
    closed.set(clean);
    closed.set(clean.subarray(0, 2), clean.length);
    return closed;
  });
  return [...lines, ...rings].filter((line) => line.length >= 4);
}

/** Distance between the places at which an upright line is looked at, metres. */
const LOOK_EVERY_M = 0.25;

/** Most places of one segment: a line drawn across half the earth must not be walked in steps. */
const LOOKS_MAX = 20_000;

/**
 * Whether a wall, fence, hedge or kerb parts a lawn, rather than standing along its edge: somewhere
 * it runs inside a lawn, farther than its own thickness from every edge.
 *
 * @param edges the edges of all lawns
 */
export function crossesLawn(shape: RawShape, thicknessM: number, edges: EdgeIndex): boolean {
  return linesOf(shape).some((line) => {
    for (let i = 0; i + 3 < line.length; i += 2) {
      const [ae, an, be, bn] = [line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!];
      const stretch = edges.stretchNear([ae, an], [be, bn]);
      if (!stretch) continue;
      const [from, to] = stretch;
      const lengthM = (to - from) * Math.hypot(be - ae, bn - an);
      const looks = Math.min(LOOKS_MAX, Math.max(1, Math.ceil(lengthM / LOOK_EVERY_M)));
      for (let k = 0; k <= looks; k++) {
        const share = from + (k / looks) * (to - from);
        const at = [ae + share * (be - ae), an + share * (bn - an)] as const;
        if (edges.contains(...at) && edges.edgesNear(at, at, thicknessM).length === 0) return true;
      }
    }
    return false;
  });
}
