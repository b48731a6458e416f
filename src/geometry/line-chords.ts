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
import { anticlockwise, type BoxTest, signedAreaM2 } from "./rings.ts";

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
  readonly turned: TurnedRing;
  /** What it takes off the area's load, and the same over its own area. */
  readonly takesM2: number;
  readonly takesShare: number;
  /** What a ray from its highest vertex upwards meets; looked for when it is asked for. */
  hit: { readonly edge: number; readonly y: number } | undefined;
}

/** A ring in the axes of a sweeping line: x along it, y to its left. */
interface TurnedRing {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly areaM2: number;
  readonly minY: number;
  readonly maxY: number;
  readonly minX: number;
  readonly maxX: number;
  /** Along the line, of its highest vertex. */
  readonly topX: number;
}

/** Rings turned into the axes of lines, kept by ring and angle: the pieces of a lawn share holes. */
export class TurnedRings {
  readonly #byAngle = new Map<number, WeakMap<RingM, TurnedRing>>();

  of(ring: RingM, angle: number): TurnedRing {
    let known = this.#byAngle.get(angle);
    if (!known) {
      known = new WeakMap();
      this.#byAngle.set(angle, known);
    }
    let turned = known.get(ring);
    if (!turned) {
      turned = turnedRing(ring, Math.cos(angle), Math.sin(angle));
      known.set(ring, turned);
    }
    return turned;
  }
}

function turnedRing(ring: RingM, cos: number, sin: number): TurnedRing {
  const n = ring.length >> 1;
  const xs = new Float64Array(n);
  const ys = new Float64Array(n);
  let [top, minX, maxX, minY, maxY] = [0, Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < n; i++) {
    const e = ring[2 * i]!;
    const north = ring[2 * i + 1]!;
    const x = e * cos + north * sin;
    const y = north * cos - e * sin;
    xs[i] = x;
    ys[i] = y;
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) {
      maxY = y;
      top = i;
    }
  }
  const areaM2 = Math.abs(signedAreaM2(ring));
  return { xs, ys, areaM2, minX, maxX, minY, maxY, topX: xs[top]! };
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
  readonly #minX: number;
  readonly #maxX: number;
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
   * @param turnedRings holes turned before, for sweeps of pieces of one lawn
   */
  constructor(
    area: AreaM,
    taken: readonly RingM[],
    angle: number,
    worthM2: (hole: RingM) => number = () => 0,
    turnedRings: TurnedRings = new TurnedRings(),
  ) {
    this.angle = angle;
    this.#cos = Math.cos(angle);
    this.#sin = Math.sin(angle);
    const shell = turnedRing(anticlockwise(area.shell), this.#cos, this.#sin);
    const { xs, ys } = shell;
    this.#xs = xs;
    this.#ys = ys;
    const n = xs.length;
    this.#sums = new Float64Array(n + 1);
    for (let i = 0; i < n; i++) {
      const j = i + 1 === n ? 0 : i + 1;
      this.#sums[i + 1] = this.#sums[i]! + xs[i]! * ys[j]! - xs[j]! * ys[i]!;
    }
    this.minM = shell.minY;
    this.maxM = shell.maxY;
    this.#minX = shell.minX;
    this.#maxX = shell.maxX;
    this.#shellM2 = this.#sums[n]! / 2;
    this.#byY = new Bins(ys);
    const swept = (ring: RingM, worth: number): SweptHole => {
      const turned = turnedRings.of(ring, angle);
      const { areaM2 } = turned;
      const takesShare = areaM2 > 0 ? 1 - worth / areaM2 : 0;
      return { turned, takesM2: areaM2 - worth, takesShare, hit: undefined };
    };
    this.#holes = [
      ...area.holes.map((ring) => swept(ring, worthM2(ring))),
      ...taken.map((ring) => swept(ring, 0)),
    ];
    this.#byTop = [...this.#holes].sort((a, b) => a.turned.maxY - b.turned.maxY);
    this.#takenBelow = new Float64Array(this.#holes.length + 1);
    let tallestM = 0;
    let totalM2 = this.#shellM2;
    this.#byTop.forEach(({ takesM2, turned }, k) => {
      this.#takenBelow[k + 1] = this.#takenBelow[k]! + takesM2;
      tallestM = Math.max(tallestM, turned.maxY - turned.minY);
    });
    for (const { takesM2 } of this.#holes) totalM2 -= takesM2;
    this.#tallestM = tallestM;
    this.totalM2 = totalM2;
  }

  /** What a ray upwards from a hole's highest vertex meets. */
  #hitOf(hole: SweptHole): { readonly edge: number; readonly y: number } {
    hole.hit ??= this.#above(hole.turned.topX, hole.turned.maxY);
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

  /** How many chords of the outer ring a level has. */
  countAt(levelM: number): number {
    return this.#meetsAt(levelM).length >> 1;
  }

  /** Where a level meets the outer ring, in no order. */
  #meetsAt(levelM: number): Meet[] {
    const xs = this.#xs;
    const ys = this.#ys;
    const n = xs.length;
    const meets: Meet[] = [];
    for (const i of this.#byY.at(levelM)) {
      const j = i + 1 === n ? 0 : i + 1;
      if (ys[i]! < levelM === ys[j]! < levelM) continue;
      const x = xs[i]! + ((levelM - ys[i]!) / (ys[j]! - ys[i]!)) * (xs[j]! - xs[i]!);
      meets.push({ x, edge: i });
    }
    return meets;
  }

  /** The chords of the outer ring at a level, in order along the line. */
  at(levelM: number): Chord[] {
    const meets = this.#meetsAt(levelM);
    if (meets.length === 2) {
      const [a, b] = [meets[0]!, meets[1]!];
      return [a.x <= b.x ? this.#alone(levelM, a, b) : this.#alone(levelM, b, a)];
    }
    meets.sort((a, b) => a.x - b.x);
    const spans: Span[] = [];
    for (let k = 0; k + 1 < meets.length; k += 2)
      spans.push({ levelM, from: meets[k]!, to: meets[k + 1]! });
    return spans.map((span) => this.#measured(span, spans));
  }

  /** The only chord of a level has on its side all that lies below the level. */
  #alone(levelM: number, from: Meet, to: Meet): Chord {
    const holes = this.#byTop;
    let [first, last] = [0, holes.length];
    while (first < last) {
      const middle = (first + last) >> 1;
      if (holes[middle]!.turned.maxY <= levelM) first = middle + 1;
      else last = middle;
    }
    let lengthM = to.x - from.x;
    let belowM2 = this.#shellBelowM2(levelM, from, to) - this.#takenBelow[first]!;
    for (let k = first; k < holes.length; k++) {
      const { turned, takesShare } = holes[k]!;
      if (turned.maxY >= levelM + this.#tallestM) break;
      if (turned.minY >= levelM) continue;
      const part = below(turned, levelM);
      belowM2 -= part.belowM2 * takesShare;
      lengthM -= part.widthM;
    }
    return chordOf(levelM, from, to, belowM2, lengthM);
  }

  #measured(chord: Span, all: readonly Span[]): Chord {
    const { levelM: y, from, to } = chord;
    let lengthM = to.x - from.x;
    let belowM2 = this.#shellBelowM2(y, from, to);
    for (const hole of this.#holes) {
      const { turned } = hole;
      if (turned.minY < y && turned.maxY > y) {
        const middle = (turned.minX + turned.maxX) / 2;
        if (middle > from.x && middle < to.x) {
          const part = below(turned, y);
          belowM2 -= part.belowM2 * hole.takesShare;
          lengthM -= part.widthM;
        } else if (this.#holds(chord, hole, all)) belowM2 -= hole.takesM2;
      } else if (this.#holds(chord, hole, all)) belowM2 -= hole.takesM2;
    }
    return chordOf(y, from, to, belowM2, lengthM);
  }

  #shellBelowM2(y: number, from: Meet, to: Meet): number {
    const { x: fromM, edge: i } = from;
    const { x: toM, edge: j } = to;
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
  #holds(chord: Span, hole: SweptHole, all: readonly Span[]): boolean {
    const { levelM: y } = chord;
    const { maxY, topX } = hole.turned;
    const { edge: hitEdge, y: hitY } = this.#hitOf(hole);
    if (maxY <= y && hitY > y) {
      const over = all.find((one) => one.from.x <= topX && topX <= one.to.x);
      if (!over) return false;
      if (over === chord) return true;
      return this.#between(chord, over.from.edge);
    }
    if (hitEdge === chord.from.edge || hitEdge === chord.to.edge) return hitY < y;
    return this.#between(chord, hitEdge);
  }

  /** Whether an edge comes after the chord's first end and before its second, going round. */
  #between({ from, to }: Span, edge: number): boolean {
    const [fromEdge, toEdge] = [from.edge, to.edge];
    return fromEdge <= toEdge ? edge > fromEdge && edge < toEdge : edge > fromEdge || edge < toEdge;
  }

  /** Tells which boxes may come this near to a chord and what lies beyond its ends in line with it. */
  nearTest({ levelM, fromM, toM }: Chord, withinM: number): BoxTest {
    const [cos, sin] = [this.#cos, this.#sin];
    const [wide, high] = [Math.abs(cos), Math.abs(sin)];
    return (minE, minN, maxE, maxN) => {
      const e = (minE + maxE) / 2;
      const n = (minN + maxN) / 2;
      const alongM = (wide * (maxE - minE) + high * (maxN - minN)) / 2 + withinM;
      const asideM = (high * (maxE - minE) + wide * (maxN - minN)) / 2 + withinM;
      const x = e * cos + n * sin;
      return (
        Math.abs(n * cos - e * sin - levelM) <= asideM && x >= fromM - alongM && x <= toM + alongM
      );
    };
  }

  /** Area that a cut along a chord would pinch off: between it and holes it passes closely, m². */
  grazedM2({ levelM, fromM, toM }: Chord, halfM: number, leastM: number): number {
    let lost = 0;
    for (const { turned } of this.#holes) {
      const { minX, maxX, minY, maxY } = turned;
      if (maxX < fromM || minX > toM) continue;
      const gap = minY > levelM ? minY - levelM - halfM : levelM - halfM - maxY;
      if (gap > 0 && gap < leastM) lost += gap * (maxX - minX);
    }
    return lost;
  }

  /** Whether a vertex of any ring is this near to a level: a cut there would leave a tiny edge. */
  hasVertexNear(levelM: number, withinM: number): boolean {
    const near = (y: number): boolean => Math.abs(y - levelM) < withinM;
    const { minY, maxY } = { minY: levelM - withinM, maxY: levelM + withinM };
    return (
      this.#ys.some(near) ||
      this.#holes.some(
        ({ turned }) => turned.minY < maxY && turned.maxY > minY && turned.ys.some(near),
      )
    );
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
    const [from, to] = [this.#minX - 1, this.#maxX + 1];
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

/** Where the line meets the outer ring. */
interface Meet {
  readonly x: number;
  readonly edge: number;
}

/** A chord before it is measured. */
interface Span {
  readonly levelM: number;
  readonly from: Meet;
  readonly to: Meet;
}

function chordOf(levelM: number, from: Meet, to: Meet, belowM2: number, lengthM: number): Chord {
  return {
    levelM,
    fromM: from.x,
    toM: to.x,
    fromEdge: from.edge,
    toEdge: to.edge,
    belowM2,
    lengthM: Math.max(0, lengthM),
  };
}

/** Area of a ring below a level, and how wide it is there. */
function below({ xs, ys }: TurnedRing, level: number): { belowM2: number; widthM: number } {
  const n = xs.length;
  let twice = 0;
  const cuts: number[] = [];
  let ax = xs[n - 1]!;
  let ay = ys[n - 1]!;
  for (let i = 0; i < n; i++) {
    const bx = xs[i]!;
    const by = ys[i]!;
    // Signed strips between edge and level.
    if (ay < level && by < level) twice += (bx - ax) * (2 * level - ay - by);
    else if (ay < level !== by < level) {
      const x = ax + ((level - ay) / (by - ay)) * (bx - ax);
      cuts.push(x);
      twice += ay < level ? (x - ax) * (level - ay) : (bx - x) * (level - by);
    }
    ax = bx;
    ay = by;
  }
  let widthM = 0;
  if (cuts.length === 2) widthM = Math.abs(cuts[1]! - cuts[0]!);
  else {
    cuts.sort((a, b) => a - b);
    for (let k = 0; k + 1 < cuts.length; k += 2) widthM += cuts[k + 1]! - cuts[k]!;
  }
  return { belowM2: Math.abs(twice) / 2, widthM };
}
