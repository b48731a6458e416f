/**
 * What each stretch of the ground's edge is, and so how far in the wire must lie.
 *
 * Sources, weakest first: the lawn's own attribute, the things that bound it, tagged edge lines, lines
 * drawn in the site file.
 * A stretch takes a source's kind where the two run side by side within the source's tolerance.
 * Everything else is `open`.
 */
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { AreaM, LineM, PointM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { EdgeKind } from "../model/roles.ts";
import type { Site } from "../model/site.ts";

/** Digitising tolerance between a lawn edge and the thing it runs along, metres. */
const THING_TOLERANCE_M = 0.1;
/** A lawn's own outline lies on the ground's edge but for repairs, metres. */
const OWN_TOLERANCE_M = 0.005;
/** Digitising tolerance between a lawn edge and a tagged edge line, metres. */
const LINE_TOLERANCE_M = 0.3;
/** Lines count as side by side up to this angle (sine of 20°). */
const SIDE_BY_SIDE_SINE = Math.sin((20 * Math.PI) / 180);
/** Stretches shorter than this take their neighbour's kind, metres. */
const SHORTEST_STRETCH_M = 0.02;

export interface EdgeLabel {
  readonly kind: EdgeKind;
  readonly setinM: number;
}

/** A stretch of a ring's edge of one kind. */
export interface EdgeRun {
  /** Ring number, counted through the areas, shell before holes. */
  readonly ring: number;
  readonly line: LineM;
  readonly label: EdgeLabel;
}

interface Source {
  readonly rank: number;
  readonly label: EdgeLabel;
  readonly line: LineM | RingM;
  readonly toleranceM: number;
}

/** The sources of edge kinds on a site that differ from the profile's default. */
function sourcesOf(site: Site, profile: Profile): { closed: Source[]; open: Source[] } {
  const closed: Source[] = [];
  const open: Source[] = [];
  const labelOf = (kind: EdgeKind, setinM?: number): EdgeLabel => ({
    kind,
    setinM: setinM ?? profile.setinM[kind],
  });
  const lawnsDiffer = site.lawns.some(
    (lawn) => lawn.setinM !== undefined || lawn.edgeKind || lawn.ownEdges,
  );
  for (const lawn of site.lawns) {
    for (const { area, edgeKind, setinM } of lawn.ownEdges ?? []) {
      const label = labelOf(edgeKind ?? "open", setinM ?? lawn.setinM);
      for (const line of [area.shell, ...area.holes]) {
        closed.push({ rank: 0, label, line, toleranceM: OWN_TOLERANCE_M });
      }
    }
    if (lawn.ownEdges) continue;
    if (lawn.setinM === undefined && !lawn.edgeKind) continue;
    const label = labelOf(lawn.edgeKind ?? "open", lawn.setinM);
    for (const line of [lawn.area.shell, ...lawn.area.holes]) {
      closed.push({ rank: 0, label, line, toleranceM: OWN_TOLERANCE_M });
    }
  }
  // A plain thing speaks for its edge where a thing beside it asks for less.
  const speaks =
    lawnsDiffer ||
    site.things.some((one) => (one.setinM ?? profile.setinM[one.edgeKind]) < profile.setinM.open);
  for (const thing of site.things) {
    const plain = thing.edgeKind === "open" && thing.setinM === undefined;
    if (plain && !speaks) continue;
    const label = labelOf(thing.edgeKind, thing.setinM);
    for (const area of thing.areas) {
      for (const line of [area.shell, ...area.holes]) {
        closed.push({ rank: 1, label, line, toleranceM: THING_TOLERANCE_M });
      }
    }
  }
  for (const edge of site.edgeLines) {
    const label = labelOf(edge.kind, edge.setinM);
    open.push({
      rank: 2 + (edge.precedence ?? 0),
      label,
      line: edge.line,
      toleranceM: LINE_TOLERANCE_M,
    });
  }
  return { closed, open };
}

interface Stretch {
  from: number;
  to: number;
  rank: number;
  label: EdgeLabel;
}

/** Shares of segment ab that run side by side with segment cd within a tolerance. */
function sideBySide(
  a: PointM,
  b: PointM,
  c: PointM,
  d: PointM,
  toleranceM: number,
): [number, number] | undefined {
  const de = b[0] - a[0];
  const dn = b[1] - a[1];
  const length = Math.hypot(de, dn);
  const fe = d[0] - c[0];
  const fn = d[1] - c[1];
  const other = Math.hypot(fe, fn);
  if (length === 0 || other === 0) return undefined;
  if (Math.abs(de * fn - dn * fe) > SIDE_BY_SIDE_SINE * length * other) return undefined;
  const along = (p: PointM): number => ((p[0] - a[0]) * de + (p[1] - a[1]) * dn) / length;
  const off = (p: PointM): number => ((p[0] - a[0]) * dn - (p[1] - a[1]) * de) / length;
  let s0 = along(c);
  let s1 = along(d);
  let o0 = off(c);
  let o1 = off(d);
  if (s0 > s1) [s0, s1, o0, o1] = [s1, s0, o1, o0];
  // Clip to |offset| ≤ tolerance, which is linear along cd.
  const slope = (o1 - o0) / (s1 - s0);
  for (const bound of [toleranceM, -toleranceM]) {
    const outside0 = bound > 0 ? o0 > bound : o0 < bound;
    const outside1 = bound > 0 ? o1 > bound : o1 < bound;
    if (outside0 && outside1) return undefined;
    if (outside0 !== outside1) {
      const cut = s0 + (bound - o0) / slope;
      if (outside0) {
        o0 = bound;
        s0 = cut;
      } else {
        o1 = bound;
        s1 = cut;
      }
    }
  }
  const from = Math.max(0, s0);
  const to = Math.min(length, s1);
  return to > from ? [from, to] : undefined;
}

/** Elementary stretches of a segment, the strongest source winning on each. */
function resolve(found: Stretch[], lengthM: number, fallback: EdgeLabel): Stretch[] {
  const cuts = [0, lengthM, ...found.flatMap((f) => [f.from, f.to])].sort((x, y) => x - y);
  const result: Stretch[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const from = cuts[i]!;
    const to = cuts[i + 1]!;
    if (to - from < 1e-6) continue;
    const middle = (from + to) / 2;
    let best: Stretch = { from, to, rank: -1, label: fallback };
    for (const f of found) {
      if (f.from > middle || f.to < middle) continue;
      const stronger = f.rank > best.rank;
      const safer = f.rank === best.rank && f.label.setinM > best.label.setinM;
      if (stronger || safer) best = { from, to, rank: f.rank, label: f.label };
    }
    const last = result[result.length - 1];
    const same =
      last && last.label.kind === best.label.kind && last.label.setinM === best.label.setinM;
    if (last && (same || to - from < SHORTEST_STRETCH_M)) last.to = to;
    // Each begins where the last ends, to the last bit: a gap of rounding would open the ring.
    else result.push({ ...best, from: last?.to ?? 0 });
  }
  const end = result[result.length - 1];
  if (end) end.to = lengthM;
  const first = result[0];
  if (result.length > 1 && first && first.to - first.from < SHORTEST_STRETCH_M) {
    result.shift();
    result[0]!.from = 0;
  }
  return result;
}

/**
 * Splits every ring of the areas into runs of one edge kind, in order round the ring.
 *
 * @returns runs; a ring of one kind gives one run whose line is closed (first point repeated)
 */
export function labelEdges(areas: readonly AreaM[], site: Site, profile: Profile): EdgeRun[] {
  const { closed, open } = sourcesOf(site, profile);
  const fallback: EdgeLabel = { kind: "open", setinM: profile.setinM.open };
  const indexes = [
    { sources: closed, index: new SegmentIndex(closed.map((s) => s.line)) },
    {
      sources: open,
      index: new SegmentIndex(
        open.map((s) => s.line),
        false,
      ),
    },
  ];
  const runs: EdgeRun[] = [];
  let ringNumber = 0;
  for (const area of areas) {
    for (const ring of [area.shell, ...area.holes]) {
      runs.push(...labelRing(ring, ringNumber++, indexes, fallback));
    }
  }
  return runs;
}

function labelRing(
  ring: RingM,
  ringNumber: number,
  indexes: readonly { sources: readonly Source[]; index: SegmentIndex }[],
  fallback: EdgeLabel,
): EdgeRun[] {
  const n = ring.length >> 1;
  const pieces: { label: EdgeLabel; points: number[] }[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const a: PointM = [ring[2 * i]!, ring[2 * i + 1]!];
    const b: PointM = [ring[2 * j]!, ring[2 * j + 1]!];
    const lengthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (lengthM === 0) continue;
    const found: Stretch[] = [];
    for (const { sources, index } of indexes) {
      if (index.count === 0) continue;
      const t = LINE_TOLERANCE_M;
      const near = index.inBox(
        Math.min(a[0], b[0]) - t,
        Math.min(a[1], b[1]) - t,
        Math.max(a[0], b[0]) + t,
        Math.max(a[1], b[1]) + t,
      );
      for (const s of near) {
        const source = sources[index.ringOf[s]!]!;
        const shares = sideBySide(a, b, index.from(s), index.to(s), source.toleranceM);
        if (shares)
          found.push({ from: shares[0], to: shares[1], rank: source.rank, label: source.label });
      }
    }
    const stretches =
      found.length === 0
        ? [{ from: 0, to: lengthM, rank: -1, label: fallback }]
        : resolve(found, lengthM, fallback);
    for (const s of stretches) {
      const at = (d: number): number[] => [
        a[0] + ((b[0] - a[0]) * d) / lengthM,
        a[1] + ((b[1] - a[1]) * d) / lengthM,
      ];
      const end = s.to === lengthM ? [b[0], b[1]] : at(s.to);
      const last = pieces[pieces.length - 1];
      if (last && sameLabel(last.label, s.label)) last.points.push(...end);
      else pieces.push({ label: s.label, points: [...(s.from === 0 ? a : at(s.from)), ...end] });
    }
  }
  const first = pieces[0];
  const last = pieces[pieces.length - 1];
  if (first && last && first !== last && sameLabel(first.label, last.label)) {
    last.points.push(...first.points.slice(2));
    pieces.shift();
  }
  return pieces.map((piece) => ({
    ring: ringNumber,
    line: Float64Array.from(piece.points),
    label: piece.label,
  }));
}

function sameLabel(a: EdgeLabel, b: EdgeLabel): boolean {
  return a.kind === b.kind && a.setinM === b.setinM;
}
