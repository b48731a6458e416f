import { type Point3, threePointArc } from "../chords.ts";
import type { PointCode } from "./codes.ts";

/** One measured point. */
export interface SurveyPoint {
  readonly number: string;
  readonly at: Point3;
  readonly hasHeight: boolean;
  readonly code: PointCode;
  readonly attributes: Readonly<Record<string, string>>;
}

/** Points that make one line, or one point alone. */
export interface SurveyString {
  readonly points: SurveyPoint[];
  closed: boolean;
}

/**
 * Lines from points in the order in which they were measured.
 *
 * Points of one code with one string number (`KERB1`) go on with each other wherever they stand in
 * the file; those of a code without a number only while they follow each other. A control word
 * begins, ends or closes a line. Codes in `pointCodes` make none, unless a control word says so.
 */
export function stringsOf(
  points: readonly SurveyPoint[],
  pointCodes: ReadonlySet<string>,
): SurveyString[] {
  const strings: SurveyString[] = [];
  const open = new Map<string, SurveyString>();
  let before = "";
  for (const point of points) {
    const { code } = point;
    const key = `${code.base} ${code.string}`.toLowerCase();
    // A line without a string number does not outlast another code.
    if (key !== before && before.endsWith(" ")) open.delete(before);
    before = key;
    const controlled =
      code.starts || code.closes || code.onArc || code.arcStarts || code.arcEnds || open.has(key);
    const alone = code.base === "" || (pointCodes.has(code.base.toLowerCase()) && !controlled);
    if (alone) {
      strings.push({ points: [point], closed: false });
      continue;
    }
    let string = code.starts ? undefined : open.get(key);
    if (string === undefined) {
      string = { points: [], closed: false };
      strings.push(string);
      open.set(key, string);
    }
    string.points.push(point);
    if (code.closes) string.closed = true;
    if (code.closes || code.ends) open.delete(key);
  }
  return strings;
}

/** Which points of a line lie within an arc, its two ends left out. */
function withinArcs(points: readonly SurveyPoint[]): boolean[] {
  let inArc = false;
  return points.map(({ code }) => {
    if (code.arcEnds) inArc = false;
    const within = code.onArc || inArc;
    if (code.arcStarts) {
      inArc = true;
      return code.onArc;
    }
    return within;
  });
}

/** The positions of a line, arcs as chords. */
export interface DrawnString {
  readonly positions: Point3[];
  readonly arcs: number;
  /** Points on an arc that has no beginning or no end: they are joined by straight lines. */
  readonly arcsLost: number;
}

/**
 * Draws a line through its points. Between the ends of an arc, every first, second and third point
 * give a circle; what is left over at an even number of points is straight.
 *
 * @param scale metres in one unit of x and of y, for the tolerance and for degrees
 */
export function drawString(
  { points, closed }: SurveyString,
  scale: readonly [x: number, y: number],
  toleranceM: number,
): DrawnString {
  const isClosed = closed && points.length >= 3;
  const ring = isClosed ? [...points, points[0]!] : points;
  const within = withinArcs(points);
  if (isClosed) within.push(false);
  const metres = ring.map(({ at }) => [at[0] * scale[0], at[1] * scale[1], at[2]] as const);
  const positions: Point3[] = [];
  let [arcs, arcsLost] = [0, 0];
  for (let i = 0; i < ring.length; i++) {
    positions.push(ring[i]!.at);
    const [from, by, to] = [metres[i], metres[i + 1], metres[i + 2]];
    if (!within[i + 1]) continue;
    if (from === undefined || by === undefined || to === undefined) {
      arcsLost++;
      continue;
    }
    for (const [x, y, z] of threePointArc(from, by, to, toleranceM)) {
      positions.push([x / scale[0], y / scale[1], z]);
    }
    arcs++;
    i++; // The point on the arc is passed; the next arc begins at its end.
  }
  if (within[0]) arcsLost++;
  return { positions, arcs, arcsLost };
}
