/** Whether a tape can be drawn straight from one place to another. */
import { shrink } from "../../geometry/offset.ts";
import { areaContains } from "../../geometry/rings.ts";
import { SegmentIndex } from "../../geometry/segment-index.ts";
import { segmentsMeet } from "../../geometry/segments.ts";
import type { AreaM, PointM } from "../../model/geometry.ts";
import type { Site } from "../../model/site.ts";

/** Corners on the face of a thing see along it: the thing is taken this much smaller, metres. */
const FACE_M = 0.02;
/** Firm things lower than this are taped over, metres: common practice. */
const TAPED_OVER_M = 0.5;
/** Edge lines that no tape goes through. */
const SOLID = new Set(["wall", "fence", "hedge"]);

/** Everything on a site that stands in the way of a tape: houses, high firm things, walls, hedges. */
export class Sight {
  private readonly solids: readonly AreaM[];
  private readonly faces: SegmentIndex;
  private readonly lines: SegmentIndex;

  /** Needs `loadEngine()` awaited. */
  constructor(site: Site) {
    const solid = site.things.filter(
      ({ role, edgeKind, heightM }) =>
        role === "building" ||
        edgeKind === "wall" ||
        edgeKind === "hedge" ||
        (role === "firm" && (heightM ?? 1) > TAPED_OVER_M),
    );
    this.solids = shrink(
      solid.flatMap((thing) => thing.areas),
      FACE_M,
      "mitre",
    );
    this.faces = new SegmentIndex(this.solids.flatMap((area) => [area.shell, ...area.holes]));
    this.lines = new SegmentIndex(
      site.edgeLines.filter(({ kind }) => SOLID.has(kind)).map(({ line }) => line),
      false,
    );
  }

  isFree(from: PointM, to: PointM): boolean {
    // A corner may lie on such a line: its own end of the tape does not count.
    const [a, b] = [stepped(from, to), stepped(to, from)];
    if (crosses(this.faces, a, b) || crosses(this.lines, a, b)) return false;
    const [e, n] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    return !this.solids.some((area) => areaContains(area, e, n));
  }
}

/** A place 5 cm on from `from` towards `to`. */
function stepped(from: PointM, to: PointM): PointM {
  const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const share = lengthM > 0 ? Math.min(0.4, 0.05 / lengthM) : 0;
  return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
}

function crosses(index: SegmentIndex, a: PointM, b: PointM): boolean {
  if (index.count === 0) return false;
  const near = index.inBox(
    Math.min(a[0], b[0]),
    Math.min(a[1], b[1]),
    Math.max(a[0], b[0]),
    Math.max(a[1], b[1]),
  );
  return near.some((segment) => segmentsMeet(a, b, index.from(segment), index.to(segment)));
}
