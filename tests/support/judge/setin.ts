import type { Degrees, Xy } from "../plane.ts";
import {
  along,
  between,
  distance,
  inside,
  insidePolygon,
  nearestOn,
  type Segment,
  SegmentGrid,
  segmentsOf,
} from "../segments.ts";
import { seamsFilled, withoutSpikes } from "./as-repaired.ts";
import { type Court, ofKind, positions, type SiteTruth } from "./types.ts";

interface Source {
  readonly setinM: number;
  readonly what: string;
  /** Whether the wire must keep away from it. */
  readonly asks: boolean;
  /** Whether its set-in may stand for that of edges near by. */
  readonly relaxes: boolean;
  /** What a run to another part keeps from it, metres. */
  readonly carriedM: number;
}

/** A wire keeps at least this clear of a firm thing that stands free inside it, metres. */
const FREE_FIRM_M = 0.02;

/** Both ends of a wire this near to a run to another part: it lies there, metres. */
const ON_RUN_M = 0.011;

/** Lawn edges are looked at in pieces of this length where kinds differ, metres. */
const PIECE_M = 0.25;
/** An edge line speaks for edges this near to it, metres, and no more than 20° off its direction. */
const EDGE_LINE_REACH_M = 0.3;
const EDGE_LINE_COSINE = Math.cos((20 * Math.PI) / 180);
/** Between a lawn and a flush path along it lies a gap of at most this, metres (docs/algorithms.md). */
const PATH_GAP_M = 0.1;
/** Wire that crosses a path's edge is not asked for a set-in from it within so many set-ins. */
const CROSSING_SETINS = 3;
/** Nor where it comes away from the crossing at 17° or more (sine): the distance grows that fast. */
const CROSSING_SINE = 0.3;
/** Wire this near to the lawn's outline lies on it, metres. */
const ON_EDGE_M = 0.0005;
/** What lies to either side of an edge is told so far from it, metres. */
const BESIDE_M = 0.002;

/**
 * Set-in kept from every lawn edge and every thing, things shut out, wire on the lawn.
 *
 * A firm thing asks for its set-in only where the wire shuts it out; where it stands free inside
 * the wire the wire must merely not run into it. A run to a part that cannot be driven to lies where
 * the machine never comes: set-in is nothing there, and it must merely lie on the lawn or on paving
 * and not run into things.
 */
export function judgeSetin(court: Court, truth: SiteTruth): void {
  const place = (line: readonly Degrees[]): Xy[] => line.map((at) => court.plane.toPlane(at));
  const placeRing = (ring: readonly Degrees[]): Xy[] => withoutSpikes(place(ring));
  const lawns = truth.lawns.map(({ polygon }) => polygon.map(placeRing));
  // Edges between lawns that meet are no edges: only the outline of their union counts.
  const outline = lawns.length === 1 ? lawns : seamsFilled(lawns);
  const lines = (truth.edgeLines ?? []).map(({ line, setinM }) => ({ line: place(line), setinM }));
  const lawnEdges = new SegmentGrid(
    truth.lawns.flatMap(({ setinM }, i) => lawns[i]!.flatMap((ring) => segmentsOf(ring, setinM))),
  );
  const edges: Segment<Source>[] = outline.flatMap((rings) =>
    rings.flatMap((ring) => lawnPieces(ring, lawnEdges, lines, truth.openSetinM)),
  );
  const bodies = court.loops.map((loop) => loop.wire.slice(0, -1));
  for (const thing of truth.things) {
    const polygons = thing.polygons.map((polygon) => polygon.map(placeRing));
    const first = polygons[0]![0]![0]!;
    const shutIn = bodies.findIndex((body) => inside(first, body));
    if (thing.contact === "loop" && shutIn !== -1) {
      court.breach("thing-inside-wire", {
        loop: court.loops[shutIn]!.name,
        at: first,
        measured: thing.name,
      });
    }
    const free = thing.contact === "firm" && shutIn !== -1;
    const source: Source = {
      setinM: free ? FREE_FIRM_M : thing.setinM,
      what: thing.name,
      // Flush paving may be run over; where it is lawn edge its set-in is the least of all.
      asks: thing.contact !== "flush",
      relaxes: !free,
      carriedM: FREE_FIRM_M,
    };
    for (const rings of polygons) {
      for (const ring of rings) {
        for (const piece of pieces(ring, source, PIECE_M)) {
          // The line is the stronger word also where a thing bounds the lawn.
          const told = toldBy(lines, piece.a, piece.b);
          const setinM = Math.min(source.setinM, ...told);
          edges.push({ ...piece, data: { ...source, setinM } });
        }
      }
    }
  }
  const paving = truth.things
    .filter(({ contact }) => contact === "flush")
    .flatMap(({ polygons }) => polygons.map((polygon) => polygon.map(placeRing)));
  measure(court, edges, outline, paving);
}

function pieces(ring: readonly Xy[], source: Source, lengthM: number): Segment<Source>[] {
  return segmentsOf(ring, source).flatMap(({ a, b }) => {
    const count = Math.max(1, Math.ceil(distance(a, b) / lengthM));
    const at = (k: number): Xy => [
      a[0] + ((b[0] - a[0]) * k) / count,
      a[1] + ((b[1] - a[1]) * k) / count,
    ];
    return Array.from({ length: count }, (_, k) => ({ a: at(k), b: at(k + 1), data: source }));
  });
}

interface EdgeLine {
  readonly line: readonly Xy[];
  readonly setinM: number;
}

/** Set-ins that edge lines beside a piece of edge give it (docs/algorithms.md: 0.30 m and 20°). */
function toldBy(lines: readonly EdgeLine[], a: Xy, b: Xy): number[] {
  return lines
    .flatMap(({ line, setinM }) => segmentsOf(line, setinM))
    .filter((s) => {
      const lengths = distance(a, b) * distance(s.a, s.b);
      const dot = (b[0] - a[0]) * (s.b[0] - s.a[0]) + (b[1] - a[1]) * (s.b[1] - s.a[1]);
      const beside = lengths > 0 && Math.abs(dot) >= EDGE_LINE_COSINE * lengths;
      return beside && [a, b].every((p) => distance(p, nearestOn(p, s.a, s.b)) < EDGE_LINE_REACH_M);
    })
    .map((s) => s.data);
}

function lawnPieces(
  ring: readonly Xy[],
  lawnEdges: SegmentGrid<number | undefined>,
  lines: readonly EdgeLine[],
  openSetinM: number,
): Segment<Source>[] {
  const cut = pieces(
    ring,
    { setinM: openSetinM, what: "lawn edge", asks: true, relaxes: true, carriedM: 0 },
    PIECE_M,
  );
  return cut.map(({ a, b, data }) => {
    const own = lawnEdges
      .near(a, b, 0.01)
      .map((s) => lawnEdges.all[s]!)
      .filter((s) => [a, b].every((p) => distance(p, nearestOn(p, s.a, s.b)) < 0.005))
      .map((s) => s.data ?? openSetinM);
    const told = toldBy(lines, a, b);
    const kinds = told.length > 0 ? told : own;
    const setinM = kinds.length > 0 ? Math.min(...kinds) : data.setinM;
    return { a, b, data: { ...data, setinM } };
  });
}

function measure(
  court: Court,
  edges: readonly Segment<Source>[],
  lawns: readonly (readonly (readonly Xy[])[])[],
  paving: readonly (readonly (readonly Xy[])[])[],
): void {
  const { relaxWithinM, setinSlackM } = court.limits;
  const grid = new SegmentGrid(edges, 1);
  const paths = new Paths(paving, lawns, court);
  const most = edges.reduce((max, edge) => Math.max(max, edge.data.setinM), 0);
  const outlines = new SegmentGrid(
    lawns.flatMap((rings) => rings.flatMap((r) => segmentsOf(r, 0))),
  );
  // Where an edge asks for nothing the wire lies on it, to rounding.
  const isOnOutline = (p: Xy): boolean =>
    outlines
      .near(p, p, ON_EDGE_M)
      .some((s) => distance(p, nearestOn(p, outlines.all[s]!.a, outlines.all[s]!.b)) <= ON_EDGE_M);
  const oneKind = edges.every((edge) => edge.data.setinM === edges[0]!.data.setinM);
  for (const loop of court.loops) {
    const runs = ofKind(court, "paired-run", loop.name)
      .filter(({ properties }) => properties?.to === "part")
      .flatMap((run) =>
        segmentsOf(
          positions(run).map((at) => court.plane.toPlane(at)),
          0,
        ),
      );
    const onRun = (p: Xy): boolean =>
      runs.some((run) => distance(p, nearestOn(p, run.a, run.b)) < ON_RUN_M);
    for (let i = 1; i < loop.wire.length; i++) {
      const a = loop.wire[i - 1]!;
      const b = loop.wire[i]!;
      const carried = onRun(a) && onRun(b);
      const onLawn = lawns.some((rings) => insidePolygon(a, rings)) || isOnOutline(a);
      if (!onLawn && !paths.mayHold(a)) {
        court.breach("off-the-lawn", { loop: loop.name, at: a });
      }
      for (const e of grid.near(a, b, most + 0.05)) {
        const edge = edges[e]!;
        if (!edge.data.asks) continue;
        const { distance: kept, onSecond } = between(a, b, edge.a, edge.b);
        if (kept > edge.data.setinM + 0.05) continue;
        let asked = carried ? Math.min(edge.data.carriedM, edge.data.setinM) : edge.data.setinM;
        if (!oneKind && relaxWithinM > 0 && kept < asked) {
          for (const k of grid.near(onSecond, onSecond, relaxWithinM)) {
            const other = edges[k]!;
            const apart = distance(onSecond, nearestOn(onSecond, other.a, other.b));
            if (apart <= relaxWithinM && other.data.relaxes) {
              asked = Math.min(asked, other.data.setinM);
            }
          }
        }
        const margin = kept - asked;
        if (margin < 0 && paths.runAlong(edge)) {
          if (paths.isCrossedNear(onSecond, kept, asked) || paths.isTakenIn(edge, onSecond))
            continue;
          if (paths.isOnPathAlone(nearestOn(onSecond, a, b))) continue;
        }
        if (margin < court.figures.setinMarginM) {
          court.figures.setinMarginM = margin;
          court.figures.setinAt = court.plane.toDegrees(a);
        }
        if (margin < -setinSlackM) {
          court.breach("set-in", {
            loop: `${loop.name} from ${edge.data.what}`,
            at: onSecond,
            measured: kept,
            allowed: asked - setinSlackM,
          });
        }
      }
    }
  }
}

/** Flush paving: wire may lie on it, and where wire crosses the lawn's edge along it that is no edge. */
class Paths {
  readonly #paving: readonly (readonly (readonly Xy[])[])[];
  readonly #rims: SegmentGrid<number>;
  readonly #crossed: Xy[] = [];
  readonly #bodies: readonly (readonly Xy[])[];
  readonly #lawns: readonly (readonly (readonly Xy[])[])[];

  constructor(
    paving: readonly (readonly (readonly Xy[])[])[],
    lawns: readonly (readonly (readonly Xy[])[])[],
    court: Court,
  ) {
    this.#paving = paving;
    this.#lawns = lawns;
    this.#bodies = court.loops.map(({ wire }) => wire.slice(0, -1));
    this.#rims = new SegmentGrid(paving.flatMap((rings) => rings.flatMap((r) => segmentsOf(r, 0))));
    if (paving.length === 0) return;
    const edges = new SegmentGrid(lawns.flatMap((rings) => rings.flatMap((r) => segmentsOf(r, 0))));
    for (const { wire } of court.loops) {
      for (const { a, b } of segmentsOf(wire, 0)) {
        for (const e of edges.near(a, b, 0)) {
          const edge = edges.all[e]!;
          const { distance: apart, onSecond } = crossingOf(a, b, edge.a, edge.b);
          if (apart === 0 && this.mayHold(onSecond)) this.#crossed.push(onSecond);
        }
      }
    }
  }

  /** Whether a place lies on flush paving, or in the gap of digitising beside it. */
  mayHold(p: Xy): boolean {
    if (this.#paving.some((rings) => insidePolygon(p, rings))) return true;
    return this.#rims
      .near(p, p, PATH_GAP_M)
      .some(
        (s) => distance(p, nearestOn(p, this.#rims.all[s]!.a, this.#rims.all[s]!.b)) <= PATH_GAP_M,
      );
  }

  runAlong({ a, b }: Segment<Source>): boolean {
    return this.#crossed.length > 0 && this.mayHold(a) && this.mayHold(b);
  }

  /** Whether an edge lies inside the wire on both its sides there: it is driven over. */
  isTakenIn({ a, b }: Segment<Source>, [x, y]: Xy): boolean {
    const length = distance(a, b);
    if (length === 0) return false;
    const [nx, ny] = [(b[1] - a[1]) / length, (a[0] - b[0]) / length];
    return [BESIDE_M, -BESIDE_M].every((off) =>
      this.#bodies.some((body) => inside([x + off * nx, y + off * ny], body)),
    );
  }

  /** Whether wire lies there on paving beside the lawn: a lawn's edge asks of wire on its own side. */
  isOnPathAlone(p: Xy): boolean {
    return (
      this.#paving.some((rings) => insidePolygon(p, rings)) &&
      !this.#lawns.some((rings) => insidePolygon(p, rings))
    );
  }

  isCrossedNear(at: Xy, keptM: number, askedM: number): boolean {
    const reachM = Math.max(CROSSING_SETINS * askedM, keptM / CROSSING_SINE);
    return this.#crossed.some((crossing) => distance(crossing, at) <= reachM);
  }
}

/** Distance of two segments, 0 with the very place where they cross. */
function crossingOf(a: Xy, b: Xy, c: Xy, d: Xy): { distance: number; onSecond: Xy } {
  const found = between(a, b, c, d);
  if (found.distance > 0) return found;
  const length = distance(a, b);
  if (length === 0) return found;
  const u: Xy = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const off = along(a, u, c, d);
  return off === undefined
    ? found
    : { distance: 0, onSecond: [a[0] + off * u[0], a[1] + off * u[1]] };
}
