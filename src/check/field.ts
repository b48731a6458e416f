/**
 * A loop's inside on a grid of places: which of them the middle of a machine may take, and how they
 * hang together. Places are a step apart; a way that keeps a distance from all boundaries has places
 * beside it, each next to the last, that keep that distance less 0.71 of a step. So what hangs together
 * in truth hangs together here, and no two rooms are parted by the grid.
 */
import type { Case } from "./case.ts";
import type { Boundaries } from "./necks.ts";

/** A place is no farther than this share of a step from any way past it: half a diagonal. */
const HALF_DIAGONAL = Math.SQRT1_2;

export interface Field {
  readonly minE: number;
  readonly minN: number;
  readonly stepM: number;
  readonly columns: number;
  readonly rows: number;
  /** 1 where the place lies inside the wire and in no firm thing. */
  readonly inside: Uint8Array;
  /** 1 where the machine's middle may be, by the lesser distance. */
  readonly passes: Uint8Array;
  /** 1 where a machine of full width has room. */
  readonly rooms: Uint8Array;
}

/** Grids larger than this are not made: places. */
const MOST_PLACES = 4_000_000;

/**
 * @param passM distance from boundaries at which the machine passes, metres
 * @param roomM distance at which it surely has room
 * @returns undefined where the grid would be too large
 */
export function fieldOf(
  court: Case,
  bounds: Boundaries,
  loop: number,
  { passM, roomM, stepM }: { passM: number; roomM: number; stepM: number },
): Field | undefined {
  const { wires } = court;
  const { ends } = bounds.tree;
  const [from, to] = [4 * wires.starts[loop]!, 4 * wires.starts[loop + 1]!];
  let [minE, minN, maxE, maxN] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let k = from; k < to; k += 4) {
    minE = Math.min(minE, ends[k]!);
    maxE = Math.max(maxE, ends[k]!);
    minN = Math.min(minN, ends[k + 1]!);
    maxN = Math.max(maxN, ends[k + 1]!);
  }
  const columns = Math.ceil((maxE - minE) / stepM) + 1;
  const rows = Math.ceil((maxN - minN) / stepM) + 1;
  if (!(columns * rows <= MOST_PLACES)) return undefined;
  const grid: Grid = { minE, minN, stepM, columns, rows };
  const inside = new Uint8Array(columns * rows);
  fill(grid, inside, ends, from, to, 1);
  // Between the two wires of a pair the machine drives as over lawn.
  for (let s = from / 4; s < to / 4; s++) {
    for (const { from: a, to: b, gapM } of wires.paired.get(s) ?? []) {
      stroke(grid, inside, ends, s, a, b, gapM + 0.001, 1);
    }
  }
  fillFirm(court, grid, inside);
  const passes = inside.slice();
  const rooms = inside.slice();
  const box = [minE - roomM, minN - roomM, maxE + roomM, maxN + roomM] as const;
  for (const s of bounds.tree.around(...box, 0)) {
    if (s < bounds.wireCount && wires.loopOf[s] !== loop) continue;
    for (const [a, b] of s < bounds.wireCount ? singleOf(court, s) : [[0, 1] as const]) {
      stroke(grid, passes, ends, s, a, b, passM - HALF_DIAGONAL * stepM, 0);
      stroke(grid, rooms, ends, s, a, b, roomM, 0);
    }
  }
  return { ...grid, inside, passes, rooms };
}

type Grid = Pick<Field, "minE" | "minN" | "stepM" | "columns" | "rows">;

/** Stretches of a segment that are not one of a pair, in shares. */
function singleOf({ wires }: Case, s: number): (readonly [number, number])[] {
  const paired = wires.paired.get(s);
  if (!paired) return [[0, 1]];
  const single: [number, number][] = [];
  let from = 0;
  for (const one of [...paired].sort((x, y) => x.from - y.from)) {
    if (one.from > from) single.push([from, one.from]);
    from = Math.max(from, one.to);
  }
  if (from < 1) single.push([from, 1]);
  return single;
}

/** Sets the places that a closed line goes round, by the crossings of each row (non-zero). */
function fill(
  { minE, minN, stepM, columns, rows }: Grid,
  places: Uint8Array,
  ends: Float64Array,
  from: number,
  to: number,
  value: 0 | 1,
): void {
  const crossings: { e: number; way: number }[][] = Array.from({ length: rows }, () => []);
  for (let k = from; k < to; k += 4) {
    const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
    if (an === bn) continue;
    const first = Math.max(0, Math.ceil((Math.min(an, bn) - minN) / stepM));
    const last = Math.min(rows - 1, Math.ceil((Math.max(an, bn) - minN) / stepM) - 1);
    for (let row = first; row <= last; row++) {
      const share = (minN + row * stepM - an) / (bn - an);
      crossings[row]!.push({ e: ae + share * (be - ae), way: bn > an ? 1 : -1 });
    }
  }
  crossings.forEach((list, row) => {
    list.sort((x, y) => x.e - y.e);
    let winding = 0;
    list.forEach(({ e, way }, i) => {
      winding += way;
      if (winding === 0 || i + 1 === list.length) return;
      const first = Math.max(0, Math.ceil((e - minE) / stepM));
      const last = Math.min(columns - 1, Math.floor((list[i + 1]!.e - minE) / stepM));
      if (last >= first) places.fill(value, row * columns + first, row * columns + last + 1);
    });
  });
}

function fillFirm({ site, ground }: Case, grid: Grid, inside: Uint8Array): void {
  for (const thing of site.things) {
    if (thing.contact !== "firm") continue;
    for (const area of thing.areas) {
      if (!ground.isShutIn(area)) continue;
      const { shell } = area;
      const n = shell.length;
      const ends = new Float64Array(2 * n);
      for (let i = 0; i < n; i += 2) {
        ends.set([shell[i]!, shell[i + 1]!, shell[(i + 2) % n]!, shell[(i + 3) % n]!], 2 * i);
      }
      fill(grid, inside, ends, 0, ends.length, 0);
    }
  }
}

/** Sets the places within a distance of a stretch of a segment. */
function stroke(
  { minE, minN, stepM, columns, rows }: Grid,
  places: Uint8Array,
  ends: Float64Array,
  s: number,
  from: number,
  to: number,
  reachM: number,
  value: 0 | 1,
): void {
  if (reachM <= 0) return;
  const k = 4 * s;
  const [de, dn] = [ends[k + 2]! - ends[k]!, ends[k + 3]! - ends[k + 1]!];
  const [ae, an] = [ends[k]! + from * de, ends[k + 1]! + from * dn];
  const [be, bn] = [(to - from) * de, (to - from) * dn];
  const square = be * be + bn * bn;
  const column = (e: number): number => (e - minE) / stepM;
  const row = (n: number): number => (n - minN) / stepM;
  const firstColumn = Math.max(0, Math.ceil(column(Math.min(ae, ae + be) - reachM)));
  const lastColumn = Math.min(columns - 1, Math.floor(column(Math.max(ae, ae + be) + reachM)));
  const firstRow = Math.max(0, Math.ceil(row(Math.min(an, an + bn) - reachM)));
  const lastRow = Math.min(rows - 1, Math.floor(row(Math.max(an, an + bn) + reachM)));
  for (let r = firstRow; r <= lastRow; r++) {
    const n = minN + r * stepM - an;
    for (let c = firstColumn; c <= lastColumn; c++) {
      const e = minE + c * stepM - ae;
      const t = square === 0 ? 0 : Math.max(0, Math.min(1, (e * be + n * bn) / square));
      const [oe, on] = [e - t * be, n - t * bn];
      if (oe * oe + on * on < reachM * reachM) places[r * columns + c] = value;
    }
  }
}

/** Numbers, from 1, of the pieces in which places hang together, each with its eight neighbours. */
export function piecesOfField({ passes, columns, rows }: Field): {
  pieceOf: Int32Array;
  count: number;
} {
  const pieceOf = new Int32Array(passes.length);
  const queue = new Int32Array(passes.length);
  let count = 0;
  for (let start = 0; start < passes.length; start++) {
    if (passes[start] === 0 || pieceOf[start] !== 0) continue;
    pieceOf[start] = ++count;
    let [head, tail] = [0, 0];
    queue[tail++] = start;
    while (head < tail) {
      const at = queue[head++]!;
      const [r, c] = [Math.floor(at / columns), at % columns];
      for (let y = Math.max(0, r - 1); y <= Math.min(rows - 1, r + 1); y++) {
        for (let x = Math.max(0, c - 1); x <= Math.min(columns - 1, c + 1); x++) {
          const next = y * columns + x;
          if (passes[next] === 0 || pieceOf[next] !== 0) continue;
          pieceOf[next] = count;
          queue[tail++] = next;
        }
      }
    }
  }
  return { pieceOf, count };
}
