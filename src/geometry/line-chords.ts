/**
 * An area swept by a line of one direction: the chords of its outer ring at any level, and what of
 * the area lies on either side of each.
 *
 * A chord of the outer ring always parts it in two, however the ring winds, so each chord is a cut.
 * The side's area comes from prefix sums of the shoelace formula (no clipping); holes are taken off
 * by where a ray from each meets the ring. A level with one chord costs about its crossings; one with
 * several, chords × holes.
 */
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import { anticlockwise, signedAreaM2 } from "./rings.ts";

/** A stretch of the sweeping line inside the outer ring, from edge to edge. */
export interface Chord {
  /** Place of the line, metres to the left of the origin along its direction. */
  readonly levelM: number;
  /** Along the line, metres. */
  readonly fromM: number;
  readonly toM: number;
  /** Edges of the outer ring that it ends on. */
  readonly fromEdge: number;
  readonly toEdge: number;
  /** Load on the right of the line (below it): area, holes taken off, with what they count for. m². */
  readonly belowM2: number;
  /** Length inside the area, without the holes that it crosses. */
  readonly lengthM: number;
}

interface SweptHole {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  /** What it takes off the area's load, and the same over its own area. */
  readonly takesM2: number;
  readonly takesShare: number;
  readonly minY: number;
  readonly maxY: number;
  readonly minX: number;
  readonly maxX: number;
  /** Along the line, of its highest vertex. */
  readonly topX: number;
  /** What a ray from there upwards meets; looked for when it is asked for. */
  hit: { readonly edge: number; readonly y: number } | undefined;
}

export class LineChords {
  readonly minM: number;
  readonly maxM: number;
  /** Area less its holes, with what they count for, m². */
  readonly totalM2: number;
  /** Direction of the line, radians anticlockwise from east. */
  readonly angle: number;
  readonly #cos: number;
  readonly #sin: number;
  readonly #xs: Float64Array;
  readonly #ys: Float64Array;
  /** Twice the shoelace sum up to each vertex. */
  readonly #sums: Float64Array;
  readonly #holes: readonly SweptHole[];
  /** Holes by their highest vertex, what those before each take off, and the greatest height. */
  readonly #byTop: readonly SweptHole[];
  readonly #takenBelow: Float64Array;
  readonly #tallestM: number;
  readonly #shellM2: number;
  /** Edges of the outer ring by where they are along the line, and by their level. */
  #byX: Bins | undefined;
  readonly #byY: Bins;

  /**
   * @param taken rings inside the area that count as holes too (what stands on it)
   * @param angle direction of the line, radians anticlockwise from east
   * @param worthM2 lawn that a hole of the area counts as beyond the area it takes off
   */
  constructor(
    area: AreaM,
    taken: readonly RingM[],
    angle: number,
    worthM2: (hole: RingM) => number = () => 0,
  ) {
    this.angle = angle;
    this.#cos = Math.cos(angle);
    this.#sin = Math.sin(angle);
    const shell = anticlockwise(area.shell);
    const { xs, ys } = this.#turned(shell);
    this.#xs = xs;
    this.#ys = ys;
    const n = xs.length;
    this.#sums = new Float64Array(n + 1);
    let low = Infinity;
    let high = -Infinity;
    for (let i = 0; i < n; i++) {
      const j = i + 1 === n ? 0 : i + 1;
      this.#sums[i + 1] = this.#sums[i]! + xs[i]! * ys[j]! - xs[j]! * ys[i]!;
      low = Math.min(low, ys[i]!);
      high = Math.max(high, ys[i]!);
    }
    this.minM = low;
    this.maxM = high;
    this.#shellM2 = this.#sums[n]! / 2;
    this.#byY = new Bins(ys);
    this.#holes = [
      ...area.holes.map((ring) => this.#swept(ring, worthM2(ring))),
      ...taken.map((ring) => this.#swept(ring, 0)),
    ];
    this.#byTop = [...this.#holes].sort((a, b) => a.maxY - b.maxY);
    this.#takenBelow = new Float64Array(this.#holes.length + 1);
    this.#byTop.forEach(({ takesM2 }, k) => {
      this.#takenBelow[k + 1] = this.#takenBelow[k]! + takesM2;
    });
    this.#tallestM = this.#holes.reduce((most, one) => Math.max(most, one.maxY - one.minY), 0);
    this.totalM2 = this.#holes.reduce((sum, hole) => sum - hole.takesM2, this.#shellM2);
  }

  #turned(ring: RingM): { xs: Float64Array; ys: Float64Array } {
    const n = ring.length >> 1;
    const xs = new Float64Array(n);
    const ys = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      const e = ring[2 * i]!;
      const north = ring[2 * i + 1]!;
      xs[i] = e * this.#cos + north * this.#sin;
      ys[i] = north * this.#cos - e * this.#sin;
    }
    return { xs, ys };
  }

  #swept(ring: RingM, worthM2: number): SweptHole {
    const areaM2 = Math.abs(signedAreaM2(ring));
    const { xs, ys } = this.#turned(ring);
    let top = 0;
    let [minX, maxX, minY] = [xs[0]!, xs[0]!, ys[0]!];
    for (let i = 1; i < ys.length; i++) {
      const [x, y] = [xs[i]!, ys[i]!];
      if (y > ys[top]!) top = i;
      if (y < minY) minY = y;
      if (x < minX) minX = x;
      if (x > maxX) maxX = x;
    }
    return {
      xs,
      ys,
      takesM2: areaM2 - worthM2,
      takesShare: areaM2 > 0 ? 1 - worthM2 / areaM2 : 0,
      minY,
      maxY: ys[top]!,
      minX,
      maxX,
      topX: xs[top]!,
      hit: undefined,
    };
  }

  /** What a ray upwards from a hole's highest vertex meets. */
  #hitOf(hole: SweptHole): { readonly edge: number; readonly y: number } {
    hole.hit ??= this.#above(hole.topX, hole.maxY);
    return hole.hit;
  }

  /** First edge of the outer ring above a point. */
  #above(x: number, y: number): { edge: number; y: number } {
    const xs = this.#xs;
    const ys = this.#ys;
    const n = xs.length;
    let best = { edge: 0, y: Infinity };
    this.#byX ??= new Bins(xs);
    for (const i of this.#byX.at(x)) {
      const j = i + 1 === n ? 0 : i + 1;
      if (xs[i]! > x === xs[j]! > x) continue;
      const at = ys[i]! + ((x - xs[i]!) / (xs[j]! - xs[i]!)) * (ys[j]! - ys[i]!);
      if (at >= y && at < best.y) best = { edge: i, y: at };
    }
    return best;
  }

  /** The chords of the outer ring at a level, in order along the line. */
  at(levelM: number): Chord[] {
    const xs = this.#xs;
    const ys = this.#ys;
    const n = xs.length;
    const meets: { x: number; edge: number }[] = [];
    for (const i of this.#byY.at(levelM)) {
      const j = i + 1 === n ? 0 : i + 1;
      if (ys[i]! < levelM === ys[j]! < levelM) continue;
      const x = xs[i]! + ((levelM - ys[i]!) / (ys[j]! - ys[i]!)) * (xs[j]! - xs[i]!);
      meets.push({ x, edge: i });
    }
    meets.sort((a, b) => a.x - b.x);
    const chords: Chord[] = [];
    for (let k = 0; k + 1 < meets.length; k += 2) {
      const from = meets[k]!;
      const to = meets[k + 1]!;
      const ends = { fromM: from.x, toM: to.x, fromEdge: from.edge, toEdge: to.edge };
      chords.push({ levelM, ...ends, belowM2: 0, lengthM: to.x - from.x });
    }
    if (chords.length === 1) return [this.#measuredAlone(chords[0]!)];
    return chords.map((chord) => this.#measured(chord, chords));
  }

  /** The only chord of a level has on its side all that lies below the level. */
  #measuredAlone(chord: Chord): Chord {
    const { levelM: y } = chord;
    const holes = this.#byTop;
    let [first, last] = [0, holes.length];
    while (first < last) {
      const middle = (first + last) >> 1;
      if (holes[middle]!.maxY <= y) first = middle + 1;
      else last = middle;
    }
    let { lengthM } = chord;
    let belowM2 = this.#shellBelowM2(chord) - this.#takenBelow[first]!;
    for (let k = first; k < holes.length && holes[k]!.maxY < y + this.#tallestM; k++) {
      const hole = holes[k]!;
      if (hole.minY >= y) continue;
      const { belowM2: part, widthM } = below(hole, y);
      belowM2 -= part * hole.takesShare;
      lengthM -= widthM;
    }
    return { ...chord, belowM2, lengthM: Math.max(0, lengthM) };
  }

  #measured(chord: Chord, all: readonly Chord[]): Chord {
    const { levelM: y, fromM, toM } = chord;
    let { lengthM } = chord;
    let belowM2 = this.#shellBelowM2(chord);
    for (const hole of this.#holes) {
      if (hole.minY < y && hole.maxY > y) {
        const { belowM2: part, widthM } = below(hole, y);
        const middle = (hole.minX + hole.maxX) / 2;
        if (middle > fromM && middle < toM) {
          belowM2 -= part * hole.takesShare;
          lengthM -= widthM;
        } else if (this.#holds(chord, hole, all)) belowM2 -= hole.takesM2;
      } else if (this.#holds(chord, hole, all)) belowM2 -= hole.takesM2;
    }
    return { ...chord, belowM2, lengthM: Math.max(0, lengthM) };
  }

  #shellBelowM2({ levelM: y, fromM, toM, fromEdge: i, toEdge: j }: Chord): number {
    const xs = this.#xs;
    const ys = this.#ys;
    const n = xs.length;
    const a = (i + 1) % n;
    const along = this.#sums[j]! - this.#sums[a]! + (j >= a ? 0 : this.#sums[n]!);
    const first = fromM * ys[a]! - xs[a]! * y;
    const last = xs[j]! * y - toM * ys[j]!;
    return (along + first + last + toM * y - fromM * y) / 2;
  }

  /** Whether a hole that the line does not cross lies below a chord. */
  #holds(chord: Chord, hole: SweptHole, all: readonly Chord[]): boolean {
    const { levelM: y } = chord;
    const { edge: hitEdge, y: hitY } = this.#hitOf(hole);
    if (hole.maxY <= y && hitY > y) {
      const over = all.find((one) => one.fromM <= hole.topX && hole.topX <= one.toM);
      if (!over) return false;
      if (over.fromEdge === chord.fromEdge && over.toEdge === chord.toEdge) return true;
      return this.#between(chord, over.fromEdge);
    }
    if (hitEdge === chord.fromEdge || hitEdge === chord.toEdge) return hitY < y;
    return this.#between(chord, hitEdge);
  }

  /** Whether an edge comes after the chord's first end and before its second, going round. */
  #between({ fromEdge, toEdge }: Chord, edge: number): boolean {
    return fromEdge <= toEdge ? edge > fromEdge && edge < toEdge : edge > fromEdge || edge < toEdge;
  }

  /** Whether a ring comes this near to a chord and what lies beyond its ends in line with it. */
  comesNear(ring: RingM, { levelM, fromM, toM }: Chord, withinM: number): boolean {
    let [lowX, highX, lowY, highY] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let i = 0; i < ring.length; i += 2) {
      const x = ring[i]! * this.#cos + ring[i + 1]! * this.#sin;
      const y = ring[i + 1]! * this.#cos - ring[i]! * this.#sin;
      lowX = Math.min(lowX, x);
      highX = Math.max(highX, x);
      lowY = Math.min(lowY, y);
      highY = Math.max(highY, y);
    }
    return (
      lowX <= toM + withinM &&
      highX >= fromM - withinM &&
      lowY <= levelM + withinM &&
      highY >= levelM - withinM
    );
  }

  /** Area that a cut along a chord would pinch off: between it and holes it passes closely, m². */
  grazedM2({ levelM, fromM, toM }: Chord, halfM: number, leastM: number): number {
    let lost = 0;
    for (const { minX, maxX, minY, maxY } of this.#holes) {
      if (maxX < fromM || minX > toM) continue;
      const gap = minY > levelM ? minY - levelM - halfM : levelM - halfM - maxY;
      if (gap > 0 && gap < leastM) lost += gap * (maxX - minX);
    }
    return lost;
  }

  /** Whether a vertex of any ring is this near to a level: a cut there would leave a tiny edge. */
  hasVertexNear(levelM: number, withinM: number): boolean {
    const near = (y: number): boolean => Math.abs(y - levelM) < withinM;
    return this.#ys.some(near) || this.#holes.some((hole) => hole.ys.some(near));
  }

  /** What lies below a chord: the outer ring from its first end to its second, closed by it. */
  ringBelow({ levelM, fromM, toM, fromEdge, toEdge }: Chord): RingM {
    const n = this.#xs.length;
    const flat: number[] = [...this.point(fromM, levelM)];
    const steps = (toEdge - fromEdge + n) % n;
    for (let k = 1; k <= steps; k++) {
      const i = (fromEdge + k) % n;
      flat.push(...this.point(this.#xs[i]!, this.#ys[i]!));
    }
    flat.push(...this.point(toM, levelM));
    return Float64Array.from(flat);
  }

  /** The strip of a width about the line, longer than the area on both sides. */
  band(levelM: number, widthM: number): RingM {
    const from = this.#xs.reduce((a, b) => Math.min(a, b), Infinity) - 1;
    const to = this.#xs.reduce((a, b) => Math.max(a, b), -Infinity) + 1;
    const half = widthM / 2;
    return Float64Array.from([
      ...this.point(from, levelM - half),
      ...this.point(to, levelM - half),
      ...this.point(to, levelM + half),
      ...this.point(from, levelM + half),
    ]);
  }

  /** A place given along the line and to its left, in metres of the site grid. */
  point(alongM: number, levelM: number): PointM {
    return [alongM * this.#cos - levelM * this.#sin, alongM * this.#sin + levelM * this.#cos];
  }
}

/** The edges of a ring in bins by their extent along one axis: those that may hold a value. */
class Bins {
  readonly #low: number;
  readonly #perUnit: number;
  readonly #starts: Uint32Array;
  readonly #edges: Uint32Array;

  /** @param values one coordinate of each vertex; edge i goes from vertex i to the next */
  constructor(values: Float64Array) {
    const n = values.length;
    let [low, high] = [Infinity, -Infinity];
    for (const value of values) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
    this.#low = low;
    this.#perUnit = high > low ? n / (high - low) : 0;
    const starts = new Uint32Array(n + 2);
    const spans = (i: number): [number, number] => {
      const a = this.#binOf(values[i]!);
      const b = this.#binOf(values[i + 1 === n ? 0 : i + 1]!);
      return a < b ? [a, b] : [b, a];
    };
    for (let i = 0; i < n; i++) {
      const [from, to] = spans(i);
      for (let bin = from; bin <= to; bin++) starts[bin + 1]!++;
    }
    for (let bin = 0; bin <= n; bin++) starts[bin + 1]! += starts[bin]!;
    const edges = new Uint32Array(starts[n + 1]!);
    const next = starts.slice();
    for (let i = 0; i < n; i++) {
      const [from, to] = spans(i);
      for (let bin = from; bin <= to; bin++) edges[next[bin]!++] = i;
    }
    this.#starts = starts;
    this.#edges = edges;
  }

  #binOf(value: number): number {
    return Math.floor((value - this.#low) * this.#perUnit);
  }

  /** Edges that may hold a value, in order. */
  at(value: number): Uint32Array {
    const bin = this.#binOf(value);
    if (!(bin >= 0 && bin + 1 < this.#starts.length)) return new Uint32Array(0);
    return this.#edges.subarray(this.#starts[bin]!, this.#starts[bin + 1]!);
  }
}

/** Area of a ring below a level, and how wide it is there. */
function below({ xs, ys }: SweptHole, level: number): { belowM2: number; widthM: number } {
  let twice = 0;
  const cuts: number[] = [];
  for (let i = 0; i < xs.length; i++) {
    const j = i + 1 === xs.length ? 0 : i + 1;
    const [ax, ay, bx, by] = [xs[i]!, ys[i]!, xs[j]!, ys[j]!];
    // Signed strips between edge and level.
    if (ay < level && by < level) {
      twice += (bx - ax) * (2 * level - ay - by);
      continue;
    }
    if (ay < level === by < level) continue;
    const x = ax + ((level - ay) / (by - ay)) * (bx - ax);
    cuts.push(x);
    twice += ay < level ? (x - ax) * (level - ay) : (bx - x) * (level - by);
  }
  cuts.sort((a, b) => a - b);
  let widthM = 0;
  for (let k = 0; k + 1 < cuts.length; k += 2) widthM += cuts[k + 1]! - cuts[k]!;
  return { belowM2: Math.abs(twice) / 2, widthM };
}
