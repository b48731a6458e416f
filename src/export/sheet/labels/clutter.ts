/** What is on the paper already: boxes and lines, found by cells. Grows while labels are placed. */

import { boxesMeet, cutSegment } from "../plot.ts";
import type { BoxMm } from "../scene.ts";

const CELL_MM = 6;

/** A straight piece of line. */
export type SegmentMm = readonly [ax: number, ay: number, bx: number, by: number];

interface Thing {
  readonly box: BoxMm;
  /** Undefined for a box that is filled. */
  readonly segment?: SegmentMm | undefined;
  /** What it costs to lie on it; Infinity where nothing may. */
  readonly cost: number;
  /** Number of the label that it belongs to, −1 for none. */
  readonly owner: number;
  /** The last visit that came by. */
  visited: number;
}

export class Clutter {
  readonly #cells = new Map<number, Thing[]>();
  #visits = 0;

  addBox(box: BoxMm, cost: number, owner = -1): void {
    this.#add({ box, cost, owner, visited: 0 });
  }

  addSegment(segment: SegmentMm, cost: number, owner = -1): void {
    const [ax, ay, bx, by] = segment;
    const pieces = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / CELL_MM));
    const at = (i: number): [number, number] => [
      ax + ((bx - ax) * i) / pieces,
      ay + ((by - ay) * i) / pieces,
    ];
    for (let i = 0; i < pieces; i++) {
      const part: SegmentMm = [...at(i), ...at(i + 1)];
      this.#add({ box: boxOfSegment(part), segment: part, cost, owner, visited: 0 });
    }
  }

  addLine(points: ArrayLike<number>, closed: boolean, cost: number): void {
    const count = points.length / 2;
    for (let i = 0; i < (closed ? count : count - 1); i++) {
      const j = (i + 1) % count;
      this.addSegment(
        [points[2 * i]!, points[2 * i + 1]!, points[2 * j]!, points[2 * j + 1]!],
        cost,
      );
    }
  }

  /** Takes everything of a label away. */
  remove(owner: number, near: BoxMm): void {
    for (const key of keysOf(near)) {
      const list = this.#cells.get(key);
      if (list?.some((one) => one.owner === owner)) {
        this.#cells.set(
          key,
          list.filter((one) => one.owner !== owner),
        );
      }
    }
  }

  /** What it costs to put a box there; Infinity where it may not lie, or from `enough` on. */
  costOfBox(box: BoxMm, enough = Infinity): number {
    let cost = 0;
    this.#visit(box, (thing) => {
      if (!boxesMeet(thing.box, box)) return false;
      if (thing.segment && !cutSegment(...thing.segment, box)) return false;
      cost += thing.cost;
      return cost >= enough;
    });
    return cost >= enough ? Infinity : cost;
  }

  /** What it costs to draw a leader there: boxes that nothing may lie on, other leaders, lines. */
  costOfLeader(segment: SegmentMm): number {
    let cost = 0;
    this.#visit(boxOfSegment(segment), (thing) => {
      const meets = thing.segment
        ? segmentsCross(thing.segment, segment)
        : cutSegment(...segment, thing.box);
      if (meets) cost += thing.segment && thing.cost < Infinity ? thing.cost / 2 : thing.cost;
      return cost === Infinity;
    });
    return cost;
  }

  /** Labels that a box or a leader would meet; undefined where it meets what cannot be moved. */
  labelsUnder(box: BoxMm, leader: SegmentMm | undefined): Set<number> | undefined {
    const owners = new Set<number>();
    const boxes = [box, ...(leader ? [boxOfSegment(leader)] : [])];
    let isFixed = false;
    for (const area of boxes) {
      this.#visit(area, (thing) => {
        if (thing.cost < Infinity) return false;
        const meetsBox =
          boxesMeet(thing.box, box) && (!thing.segment || cutSegment(...thing.segment, box));
        const meetsLeader =
          leader &&
          (thing.segment ? segmentsCross(thing.segment, leader) : cutSegment(...leader, thing.box));
        if (!meetsBox && !meetsLeader) return false;
        if (thing.owner < 0) isFixed = true;
        else owners.add(thing.owner);
        return isFixed;
      });
    }
    return isFixed ? undefined : owners;
  }

  #add(thing: Thing): void {
    for (const key of keysOf(thing.box)) {
      const list = this.#cells.get(key);
      if (list) list.push(thing);
      else this.#cells.set(key, [thing]);
    }
  }

  /** Visits each thing whose cells a box meets once, until told that it is enough. */
  #visit(box: BoxMm, isEnough: (thing: Thing) => boolean): void {
    const visit = ++this.#visits;
    const { left, top, right, bottom } = cellsOf(box);
    for (let i = left; i <= right; i++) {
      for (let j = top; j <= bottom; j++) {
        const list = this.#cells.get(keyOf(i, j));
        if (!list) continue;
        for (const thing of list) {
          if (thing.visited === visit) continue;
          thing.visited = visit;
          if (isEnough(thing)) return;
        }
      }
    }
  }
}

const keyOf = (i: number, j: number) => i * 100_003 + j;

function cellsOf({ left, top, right, bottom }: BoxMm): BoxMm {
  return {
    left: Math.floor(left / CELL_MM),
    right: Math.floor(right / CELL_MM),
    top: Math.floor(top / CELL_MM),
    bottom: Math.floor(bottom / CELL_MM),
  };
}

function* keysOf(box: BoxMm): Generator<number> {
  const { left, top, right, bottom } = cellsOf(box);
  for (let i = left; i <= right; i++) for (let j = top; j <= bottom; j++) yield keyOf(i, j);
}

export function boxOfSegment([ax, ay, bx, by]: SegmentMm): BoxMm {
  return {
    left: Math.min(ax, bx),
    right: Math.max(ax, bx),
    top: Math.min(ay, by),
    bottom: Math.max(ay, by),
  };
}

function segmentsCross(a: SegmentMm, b: SegmentMm): boolean {
  const side = ([ax, ay, bx, by]: SegmentMm, x: number, y: number) =>
    (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  return (
    side(a, b[0], b[1]) * side(a, b[2], b[3]) < 0 && side(b, a[0], a[1]) * side(b, a[2], a[3]) < 0
  );
}
