/**
 * Wire that is in the ground stays there: stretches of a ring's chords are given way to the spans of
 * an earlier plan where those still follow the ring's outline as a new plan's would.
 *
 * A span is kept if both its pegs lie in the band beside the outline in which pegs may stand, if it
 * follows the outline forward, and if no corner of the outline between them is cut off to the wrong
 * side or left further than wire may wander: the rules of `fitChords`, span by span.
 */
import { SegmentIndex } from "../geometry/segment-index.ts";
import { pointSegmentM } from "../geometry/segments.ts";
import type { PointM, RingM } from "../model/geometry.ts";
import type { KeptWire } from "../model/plan-options.ts";

export interface KeepOptions {
  readonly spacingM: number;
  readonly wanderM: number;
}

/** What writing to 0.1 mm and another grid may move, metres. */
const WRITTEN_M = 0.002;
/** Two wires of a pair are this near to one peg, metres. */
const ONE_PEG_M = 0.03;
/** Pegs nearer than this to each other are one, metres. */
const SAME_PEG_M = 0.005;
/** Fewer spans than this in a row are not worth two joins. */
const LEAST_SPANS = 3;

/**
 * @param fitted chords of the ring, as planned anew
 * @param outline what they follow, its free side on the left
 * @param kept wires of the earlier plan
 * @returns chords with kept spans in them; those planned anew where nothing fits
 */
export function keepPegs(
  fitted: RingM,
  outline: RingM,
  kept: readonly KeptWire[],
  options: KeepOptions,
): RingM {
  const course = new Course(outline, options);
  const paths = kept.flatMap((wire) => pathsAlong(wire, course));
  if (paths.length === 0) return fitted;
  const taken = withoutOverlaps(paths, course);
  return spliced(fitted, taken, course);
}

/** A place beside the outline: how far along it, metres. */
interface Place {
  readonly atM: PointM;
  readonly alongM: number;
  /** A paired run or the station stood there: they find their place anew, mostly the same. */
  readonly loose?: boolean;
}

/** Spans in a row that may stay. */
type Path = readonly Place[];

/** The outline as something to follow. */
class Course {
  readonly lengthM: number;
  readonly #ring: RingM;
  readonly #index: SegmentIndex;
  readonly #along: Float64Array;
  readonly #options: KeepOptions;

  constructor(ring: RingM, options: KeepOptions) {
    this.#ring = ring;
    this.#options = options;
    this.#index = new SegmentIndex([ring]);
    const n = ring.length >> 1;
    this.#along = new Float64Array(n + 1);
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      const step = Math.hypot(ring[2 * j]! - ring[2 * i]!, ring[2 * j + 1]! - ring[2 * i + 1]!);
      this.#along[i + 1] = this.#along[i]! + step;
    }
    this.lengthM = this.#along[n]!;
  }

  /** Where a point lies; undefined where no peg of this ring may stand. */
  placeOf(atM: PointM, withinM = this.#options.wanderM + WRITTEN_M): Place | undefined {
    const near = this.#index.nearest(...atM, withinM);
    if (!near) return undefined;
    const [a, b] = [this.#index.from(near.segment), this.#index.to(near.segment)];
    const [de, dn] = [b[0] - a[0], b[1] - a[1]];
    const length = Math.hypot(de, dn);
    if (length === 0) return undefined;
    const share = ((atM[0] - a[0]) * de + (atM[1] - a[1]) * dn) / (length * length);
    const left = (de * (atM[1] - a[1]) - dn * (atM[0] - a[0])) / length;
    const inside = Math.min(1, Math.max(0, share));
    // Past an end of the segment the side is told by the corner: not here.
    if (left < -WRITTEN_M && share > 0 && share < 1) return undefined;
    const alongM = this.#along[this.#index.vertexOf[near.segment]!]! + inside * length;
    return { atM, alongM };
  }

  /** Forward along the outline, metres. */
  stepM(from: number, to: number): number {
    return (to - from + this.lengthM) % this.lengthM;
  }

  /** Whether a straight span between two places follows the outline as a new one might. */
  follows(from: Place, to: Place, spacingM = this.#options.spacingM): boolean {
    const [a, b] = [from.atM, to.atM];
    const [de, dn] = [b[0] - a[0], b[1] - a[1]];
    const length = Math.hypot(de, dn);
    if (length < 0.02 || length > spacingM + WRITTEN_M) return false;
    const stepM = this.stepM(from.alongM, to.alongM);
    if (stepM < 1e-6 || stepM > 1.6 * length + 0.3) return false;
    const { wanderM } = this.#options;
    return this.#verticesBetween(from.alongM, stepM).every(([e, n]) => {
      const left = (de * (n - a[1]) - dn * (e - a[0])) / length;
      const away = pointSegmentM(e, n, a[0], a[1], b[0], b[1]);
      return left <= WRITTEN_M && away <= wanderM + WRITTEN_M;
    });
  }

  /** Corners of the outline on the way from one place to another. */
  between(from: Place, to: Place): PointM[] {
    return this.#verticesBetween(from.alongM, this.stepM(from.alongM, to.alongM));
  }

  #verticesBetween(fromM: number, stepM: number): PointM[] {
    const n = this.#ring.length >> 1;
    const points: PointM[] = [];
    let [low, high] = [0, n];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#along[middle]! > fromM + 1e-9) high = middle;
      else low = middle + 1;
    }
    for (let k = 0; k < n; k++) {
      const i = (low + k) % n;
      const ahead = this.stepM(fromM, this.#along[i]!);
      if (ahead <= 1e-9 || ahead >= stepM - 1e-9) break;
      points.push([this.#ring[2 * i]!, this.#ring[2 * i + 1]!]);
    }
    return points;
  }
}

/** Stretches of an old wire that follow the outline. */
function pathsAlong({ wire, loose }: KeptWire, course: Course): Path[] {
  const places: (Place | undefined)[] = [];
  for (let i = 0; i < wire.length; i += 2) {
    const place = course.placeOf([wire[i]!, wire[i + 1]!]);
    places.push(place && { ...place, loose: loose[i >> 1] === true });
  }
  const n = places.length;
  const steps = places.map((from, i) => {
    const to = places[(i + 1) % n];
    return from !== undefined && to !== undefined && course.follows(from, to);
  });
  const start = steps.indexOf(false);
  // A ring that was followed all round: it is opened at its first vertex.
  const order = Array.from({ length: n }, (_, k) => (Math.max(0, start) + 1 + k) % n);
  const paths: Place[][] = [];
  let open: Place[] = [];
  for (const i of order) {
    const place = places[i];
    if (place && open.length === 0) open = [place];
    if (steps[i]) open.push(places[(i + 1) % n]!);
    else {
      if (open.length > LEAST_SPANS) paths.push(open);
      open = [];
    }
  }
  if (open.length > LEAST_SPANS) paths.push(open);
  return joined(paths, course).map((path) => withoutLoose(path, course));
}

/** Where a paired run left the ring the old wire comes by one peg twice: the paths go on there. */
function joined(paths: readonly Place[][], course: Course): Path[] {
  const made: Place[][] = [];
  for (const path of [...paths].sort((a, b) => a[0]!.alongM - b[0]!.alongM)) {
    const before = made[made.length - 1];
    const last = before?.[before.length - 1];
    const first = path[0]!;
    const apart = last ? Math.hypot(last.atM[0] - first.atM[0], last.atM[1] - first.atM[1]) : 1;
    const next = path[1]!;
    if (before && apart < ONE_PEG_M && course.follows(last!, next, Infinity)) {
      before.push(...path.slice(1));
    } else made.push([...path]);
  }
  return made;
}

/** Pegs of runs and of the station left out where the span over them follows the outline too. */
function withoutLoose(path: Path, course: Course): Path {
  const left: Place[] = [];
  path.forEach((place, i) => {
    const before = left[left.length - 1];
    const next = path[i + 1];
    if (place.loose && before && next && course.follows(before, next, Infinity)) return;
    left.push(place);
  });
  return left;
}

/** Longest first; what runs over another is left out. */
function withoutOverlaps(paths: readonly Path[], course: Course): Path[] {
  const taken: Path[] = [];
  const lengthOf = (path: Path): number =>
    course.stepM(path[0]!.alongM, path[path.length - 1]!.alongM);
  for (const path of [...paths].sort((a, b) => lengthOf(b) - lengthOf(a))) {
    const clear = taken.every((other) => !overlap(path, other, course, lengthOf));
    if (clear) taken.push(path);
  }
  return taken.sort((a, b) => a[0]!.alongM - b[0]!.alongM);
}

function overlap(a: Path, b: Path, course: Course, lengthOf: (path: Path) => number): boolean {
  const apart = course.stepM(a[0]!.alongM, b[0]!.alongM);
  const back = course.stepM(b[0]!.alongM, a[0]!.alongM);
  return apart < lengthOf(a) || back < lengthOf(b);
}

/** The fitted ring with paths in place of what it had there. */
function spliced(fitted: RingM, paths: readonly Path[], course: Course): RingM {
  const fresh: Place[] = [];
  for (let i = 0; i < fitted.length; i += 2) {
    const place = course.placeOf([fitted[i]!, fitted[i + 1]!], Infinity);
    if (place) fresh.push(place);
  }
  const ring: Place[] = [];
  paths.forEach((path, k) => {
    ring.push(...path);
    const next = paths[(k + 1) % paths.length]!;
    ring.push(...gap(path[path.length - 1]!, next[0]!, fresh, course));
  });
  const apart = ring.filter(({ atM }, i) => {
    const before = ring[(i + ring.length - 1) % ring.length]!.atM;
    return Math.hypot(atM[0] - before[0], atM[1] - before[1]) >= SAME_PEG_M;
  });
  return Float64Array.from(apart.flatMap(({ atM }) => [...atM]));
}

/** From the end of one path to the start of the next: new chords, joined where they can be. */
function gap(from: Place, to: Place, fresh: readonly Place[], course: Course): Place[] {
  const widthM = course.stepM(from.alongM, to.alongM);
  if (widthM < 1e-6) return [];
  const inner = fresh
    .filter(({ alongM }) => {
      const ahead = course.stepM(from.alongM, alongM);
      return ahead > 1e-6 && ahead < widthM - 1e-6;
    })
    .sort((a, b) => course.stepM(from.alongM, a.alongM) - course.stepM(from.alongM, b.alongM));
  // The nearest new peg at either end that a straight span leads to; none, then along the outline.
  const firstAt = inner.findIndex((one) => course.follows(from, one, Infinity));
  const lastAt = lastIndex(inner, (one) => course.follows(one, to, Infinity));
  if (firstAt >= 0 && lastAt >= firstAt) return inner.slice(firstAt, lastAt + 1);
  if (course.follows(from, to, Infinity)) return [];
  return course.between(from, to).map((atM) => ({ atM, alongM: 0 }));
}

function lastIndex<T>(list: readonly T[], fits: (one: T) => boolean): number {
  for (let i = list.length - 1; i >= 0; i--) if (fits(list[i]!)) return i;
  return -1;
}
