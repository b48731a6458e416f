import { EdgeIndex } from "../geometry/edge-index.ts";
import { grow, growLines, shrink } from "../geometry/offset.ts";
import { intersection, union } from "../geometry/overlay.ts";
import { totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import { stretchWithin } from "../geometry/stretch.ts";
import type { AreaM, LineM, PointM } from "../model/geometry.ts";
import type { Lawn, OwnEdges } from "../model/site.ts";
import { REPAIR_TOLERANCES } from "../model/site-rules.ts";
import type { Repaired } from "./lawn-pieces.ts";
import { counted, listed, type Note, squareMetres } from "./notes.ts";

/** A front shorter than this is a mere touch of corners, metres. */
const JOIN_FRONT_M = 0.1;

/** How far strips over a seam reach into the lawns on both sides, metres. */
const SEAM_OVERLAP_M = 0.00005;

/** Less overlap than this is a seam, not an overlap, m². */
const OVERLAP_M2 = 0.01;

/** A lawn with the pieces that it was made of. */
export interface UnitedLawn extends Lawn {
  readonly members: readonly Repaired[];
}

/** A stretch along which two lawns meet. */
interface Front {
  readonly line: LineM;
  readonly lengthM: number;
}

/**
 * Lawns that overlap, or meet along an edge with at most `joinGapM` between them, made one.
 * The others come back as they are. The results do not overlap. n log n in the vertices.
 */
export function uniteLawns(
  lawns: readonly Repaired[],
  note: Note,
  joinGapM = REPAIR_TOLERANCES.joinGapM,
): UnitedLawn[] {
  // Polygons of one feature may overlap or meet like those of two.
  const pieces = lawns.flatMap((lawn) => lawn.areas.map((area) => ({ ...lawn, areas: [area] })));
  const meetings = findMeetings(pieces, joinGapM);
  return grouped(pieces.length, meetings).flatMap(({ members, fronts }) => {
    const group = members.map((m) => pieces[m]!);
    const areas = group.length === 1 ? group[0]!.areas : uniteGroup(group, fronts, joinGapM, note);
    return lawnsOf(areas, group, note);
  });
}

/** Two pieces that overlap or meet. */
interface Meeting {
  readonly i: number;
  readonly j: number;
  overlaps: boolean;
  readonly fronts: Front[];
}

function findMeetings(pieces: readonly Repaired[], joinGapM: number): Meeting[] {
  const edges = new EdgeIndex(pieces.map((piece) => piece.areas));
  const meetings = new Map<string, Meeting>();
  const meetingOf = (i: number, j: number): Meeting => {
    const key = i < j ? `${i} ${j}` : `${j} ${i}`;
    const found = meetings.get(key) ?? { i, j, overlaps: false, fronts: [] };
    meetings.set(key, found);
    return found;
  };
  pieces.forEach((piece, i) => {
    for (const area of piece.areas) {
      for (const [other, share] of edges.sharesHolding(area.shell)) {
        // A few of the places may lie on an edge of the other, and fall either way.
        if (other !== i && share > 0.5) meetingOf(i, other).overlaps = true;
      }
      for (const ring of [area.shell, ...area.holes]) {
        const count = ring.length >> 1;
        for (let s = 0; s < count; s++) {
          const a = vertexAt(ring, s);
          const b = vertexAt(ring, (s + 1) % count);
          for (const k of edges.edgesNear(a, b, joinGapM)) {
            const other = edges.owner(k);
            if (other <= i) continue;
            const [c, d] = edges.edge(k);
            const meeting = meetingOf(i, other);
            if (properlyCross(a, b, c, d)) meeting.overlaps = true;
            const stretch = stretchWithin(a, b, c, d, joinGapM);
            if (stretch) meeting.fronts.push(frontOf(a, b, stretch));
          }
        }
      }
    }
  });
  for (const meeting of meetings.values()) {
    const frontM = meeting.fronts.reduce((sum, front) => sum + front.lengthM, 0);
    if (frontM < JOIN_FRONT_M) meeting.fronts.length = 0;
  }
  return [...meetings.values()].filter((meeting) => meeting.overlaps || meeting.fronts.length > 0);
}

function properlyCross(a: PointM, b: PointM, c: PointM, d: PointM): boolean {
  const side = (p: PointM, q: PointM, r: PointM) =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

function frontOf(a: PointM, b: PointM, [from, to]: [number, number]): Front {
  const at = (t: number) => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])] as const;
  const [p, q] = [at(from), at(to)];
  return {
    line: Float64Array.of(p[0], p[1], q[0], q[1]),
    lengthM: Math.hypot(q[0] - p[0], q[1] - p[1]),
  };
}

/** Connected groups of pieces, by union-find, in input order. */
function grouped(
  count: number,
  meetings: readonly Meeting[],
): { members: number[]; fronts: Front[] }[] {
  const parent = Array.from({ length: count }, (_, i) => i);
  const root = (of: number): number => {
    let i = of;
    while (parent[i] !== i) {
      parent[i] = parent[parent[i]!]!;
      i = parent[i]!;
    }
    return i;
  };
  for (const { i, j } of meetings) {
    const [a, b] = [root(i), root(j)];
    parent[Math.max(a, b)] = Math.min(a, b);
  }
  const groups = new Map<number, { members: number[]; fronts: Front[] }>();
  for (let i = 0; i < count; i++) {
    const group = groups.get(root(i)) ?? { members: [], fronts: [] };
    group.members.push(i);
    groups.set(root(i), group);
  }
  for (const { i, fronts } of meetings) groups.get(root(i))!.fronts.push(...fronts);
  return [...groups.values()];
}

function uniteGroup(
  group: readonly Repaired[],
  fronts: readonly Front[],
  joinGapM: number,
  note: Note,
): readonly AreaM[] {
  const parts = group.flatMap((piece) => piece.areas);
  const united = union(parts);
  const overlapM2 = totalAreaM2(parts) - totalAreaM2(united);
  const names = listed([...new Set(group.map((piece) => piece.name))]);
  const [first] = group as [Repaired];
  const place = fronts[0] ? vertexAt(fronts[0].line, 0) : vertexAt(group[1]!.areas[0]!.shell, 0);
  if (overlapM2 >= OVERLAP_M2) {
    note({
      code: "LAWNS_OVERLAP",
      severity: "info",
      message: `${counted(group.length, "lawn")} overlap by ${squareMetres(overlapM2)} in all and were united: ${names}. Together ${squareMetres(totalAreaM2(united))}.`,
      remedy: "Nothing to do if they are one lawn; else draw them apart.",
      atM: place,
      ...first.source,
    });
  }
  const longest = fronts.filter((front) => front.lengthM > 0.001);
  if (longest.length === 0) return soundAreas(united);
  // Closed: what a disc of half the gap cannot get into. Strips keep that to the seams.
  const half = joinGapM / 2 + 0.0002;
  const closed = shrink(grow(united, half, "mitre"), half, "mitre");
  const strips = growLines(
    longest.map((front) => front.line),
    joinGapM + SEAM_OVERLAP_M,
    "butt",
    "mitre",
  );
  const seams = intersection(strips, closed);
  const joined = soundAreas(union([...united, ...seams]));
  if (joined.length < united.length || overlapM2 < OVERLAP_M2) {
    const metres = longest.reduce((sum, front) => sum + front.lengthM, 0);
    note({
      code: "LAWNS_JOINED",
      severity: "info",
      message: `${counted(group.length, "lawn")} meet along ${metres.toFixed(1)} m with at most ${Number((100 * joinGapM).toFixed(2))} cm between them and are one ground: ${names}. The seams add ${squareMetres(Math.max(0, totalAreaM2(joined) - totalAreaM2(united)))}.`,
      remedy: "Nothing to do; draw what parts them if something does.",
      atM: place,
      ...first.source,
    });
  }
  return joined;
}

/** Lawns with the name of their members and their attributes: each keeps its own where they differ. */
function lawnsOf(areas: readonly AreaM[], group: readonly Repaired[], note: Note): UnitedLawn[] {
  const largest = group.reduce((a, b) => (totalAreaM2(b.areas) > totalAreaM2(a.areas) ? b : a));
  const names = [...new Set(group.filter((piece) => piece.named).map((piece) => piece.name))];
  const name =
    names.length === 0 ? largest.name : names.length <= 3 ? names.join(" + ") : listed(names, 2);
  const differs = group.some(
    (piece) => piece.setinM !== largest.setinM || piece.edgeKind !== largest.edgeKind,
  );
  if (differs && group.some((piece) => piece.setinM !== undefined || piece.edgeKind)) {
    note({
      code: "LAWN_ATTRIBUTES_DIFFER",
      severity: "info",
      message: `Lawns that are one ground have different setin_m or edge: ${listed(group.map((piece) => piece.name))}; each keeps its own along its edges.`,
      remedy: "Nothing to do; draw edge lines where an edge is of another kind.",
      atM: vertexAt(largest.areas[0]!.shell, 0),
      ...largest.source,
    });
  }
  return areas.map((area) => ({
    name,
    area,
    ...(differs ? { ownEdges: group.flatMap(ownEdgesOf) } : attributesOf(largest)),
    source: largest.source,
    members: group,
  }));
}

function ownEdgesOf(piece: Repaired): OwnEdges[] {
  return piece.areas.map((area) => ({ area, ...attributesOf(piece) }));
}

function attributesOf({ setinM, edgeKind }: Repaired): Pick<OwnEdges, "setinM" | "edgeKind"> {
  return { ...(setinM !== undefined && { setinM }), ...(edgeKind && { edgeKind }) };
}
