/** From the site grid to the paper: exact scale, north up. */
import type { AreaM, LineM, PointM } from "../../model/geometry.ts";
import type { BoxMm, LineMm } from "./scene.ts";

export type PointMm = readonly [x: number, y: number];

/** Vertices nearer than this to the one before are left out, millimetres of paper. */
const LEAST_STEP_MM = 0.03;

export class Plot {
  readonly scale: number;
  readonly window: BoxMm;
  readonly #centre: PointM;
  readonly #mmPerM: number;
  readonly #midX: number;
  readonly #midY: number;

  /** @param centre what lies in the middle of the window, metres in the site grid */
  constructor(window: BoxMm, scale: number, centre: PointM) {
    this.window = window;
    this.scale = scale;
    this.#centre = centre;
    this.#mmPerM = 1000 / scale;
    this.#midX = (window.left + window.right) / 2;
    this.#midY = (window.top + window.bottom) / 2;
  }

  /** Length on paper of a length in metres. */
  mm(metres: number): number {
    return metres * this.#mmPerM;
  }

  at([east, north]: PointM): PointMm {
    return [
      this.#midX + (east - this.#centre[0]) * this.#mmPerM,
      this.#midY - (north - this.#centre[1]) * this.#mmPerM,
    ];
  }

  /** All vertices of a line or ring on paper, less those that cannot be told apart. */
  points(line: LineM): Float64Array {
    const out = new Float64Array(line.length);
    let count = 0;
    for (let i = 0; i < line.length; i += 2) {
      const [x, y] = this.at([line[i]!, line[i + 1]!]);
      const isLast = i + 2 >= line.length;
      const isNear =
        count > 0 && Math.hypot(x - out[count - 2]!, y - out[count - 1]!) < LEAST_STEP_MM;
      if (isNear && !(isLast && count === 2)) continue;
      out[count++] = x;
      out[count++] = y;
    }
    return out.subarray(0, count);
  }

  /** Rings of areas whose box meets the window. */
  rings(areas: readonly AreaM[]): LineMm[] {
    return areas.flatMap(({ shell, holes }) => {
      const outer = this.points(shell);
      if (!meets(outer, this.window)) return [];
      return [outer, ...holes.map((hole) => this.points(hole))].map((points) => ({
        points,
        closed: true,
      }));
    });
  }

  /** What is seen of a line in the window and a little beyond, in pieces. */
  seen(line: LineM, closed = false): LineMm[] {
    const points = this.points(line);
    const box = grown(this.window, 2);
    if (!meets(points, box)) return [];
    if (within(points, box)) return [{ points, closed }];
    return cut(points, closed, box);
  }

  isSeen(point: PointM, marginMm = 0): boolean {
    return inside(this.at(point), grown(this.window, -marginMm));
  }
}

export const grown = ({ left, top, right, bottom }: BoxMm, by: number): BoxMm => ({
  left: left - by,
  top: top - by,
  right: right + by,
  bottom: bottom + by,
});

export const inside = ([x, y]: PointMm, { left, top, right, bottom }: BoxMm): boolean =>
  x >= left && x <= right && y >= top && y <= bottom;

export function boxOfPoints(points: ArrayLike<number>): BoxMm {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 2) {
    left = Math.min(left, points[i]!);
    right = Math.max(right, points[i]!);
    top = Math.min(top, points[i + 1]!);
    bottom = Math.max(bottom, points[i + 1]!);
  }
  return { left, top, right, bottom };
}

export const boxesMeet = (a: BoxMm, b: BoxMm): boolean =>
  a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top;

function meets(points: ArrayLike<number>, box: BoxMm): boolean {
  return points.length > 0 && boxesMeet(boxOfPoints(points), box);
}

function within(points: ArrayLike<number>, box: BoxMm): boolean {
  const own = boxOfPoints(points);
  return (
    own.left >= box.left && own.right <= box.right && own.top >= box.top && own.bottom <= box.bottom
  );
}

/** Cuts a line to a box, segment by segment (Liang and Barsky, 1984). */
function cut(points: Float64Array, closed: boolean, box: BoxMm): LineMm[] {
  const out: { points: number[] }[] = [];
  const count = points.length / 2;
  let open: number[] | undefined;
  for (let i = 0; i < (closed ? count : count - 1); i++) {
    const j = (i + 1) % count;
    const part = cutSegment(
      points[2 * i]!,
      points[2 * i + 1]!,
      points[2 * j]!,
      points[2 * j + 1]!,
      box,
    );
    if (!part) {
      open = undefined;
      continue;
    }
    const [ax, ay, bx, by] = part;
    if (open && open.at(-2) === ax && open.at(-1) === ay) open.push(bx, by);
    else {
      open = [ax, ay, bx, by];
      out.push({ points: open });
    }
  }
  return out;
}

/** What of a segment lies in a box, or undefined. */
export function cutSegment(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  { left, top, right, bottom }: BoxMm,
): [number, number, number, number] | undefined {
  const [dx, dy] = [bx - ax, by - ay];
  let [from, to] = [0, 1];
  for (const [p, q] of [
    [-dx, ax - left],
    [dx, right - ax],
    [-dy, ay - top],
    [dy, bottom - ay],
  ] as const) {
    if (p === 0) {
      if (q < 0) return undefined;
      continue;
    }
    const share = q / p;
    if (p < 0) from = Math.max(from, share);
    else to = Math.min(to, share);
    if (from > to) return undefined;
  }
  return [
    from === 0 ? ax : ax + from * dx,
    from === 0 ? ay : ay + from * dy,
    to === 1 ? bx : ax + to * dx,
    to === 1 ? by : ay + to * dy,
  ];
}
