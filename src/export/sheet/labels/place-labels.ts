/**
 * Places labels so that no two overlap: the best free place of each, in order of importance; then
 * labels that must be shown and found no place push others to theirs. Candidates and a greedy start
 * after Christensen, Marks and Shieber, "An empirical study of algorithms for point-feature label
 * placement" (ACM Transactions on Graphics 14, 1995); what is sought is a place for all that matter,
 * not the best of all pictures.
 */
import { boxesMeet, inside, type PointMm } from "../plot.ts";
import type { BoxMm } from "../scene.ts";
import { boxOfSegment, type Clutter, type SegmentMm } from "./clutter.ts";

/** One place that a label might take. */
export interface LabelPlace {
  /** Middle of its box. */
  readonly x: number;
  readonly y: number;
  readonly cost: number;
  readonly leader?: SegmentMm | undefined;
}

export interface LabelWish {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly places: readonly LabelPlace[];
  /** Smaller is placed earlier; equal ones in the order given. */
  readonly rank: number;
  /** Whether others move for it, and whether it is missed where it finds no place. */
  readonly isNeeded: boolean;
}

/** A label's place, or undefined where there is none. */
export type Placed = (LabelPlace & { readonly box: BoxMm }) | undefined;

/**
 * @param window boxes lie in it
 * @returns for each wish its place, in the order of the wishes; the clutter holds them afterwards
 */
export function placeLabels(
  wishes: readonly LabelWish[],
  clutter: Clutter,
  window: BoxMm,
): Placed[] {
  const placed: Placed[] = wishes.map(() => undefined);
  const order = wishes.map((_, i) => i).sort((a, b) => wishes[a]!.rank - wishes[b]!.rank || a - b);
  const put = (i: number, place: Placed) => {
    placed[i] = place;
    if (!place) return;
    clutter.addBox(place.box, Infinity, i);
    if (place.leader) clutter.addSegment(place.leader, Infinity, i);
  };
  const lift = (i: number) => {
    const place = placed[i]!;
    clutter.remove(i, place.box);
    if (place.leader) clutter.remove(i, boxOfSegment(place.leader));
    placed[i] = undefined;
  };
  for (const i of order) put(i, best(wishes[i]!, clutter, window));
  for (const i of order) {
    if (placed[i] || !wishes[i]!.isNeeded) continue;
    pushIn(i);
  }
  return placed;

  /** Takes a place held by labels that find another, or that are not needed. */
  function pushIn(i: number): void {
    const wish = wishes[i]!;
    for (const place of [...wish.places].sort((a, b) => a.cost - b.cost)) {
      const own = { ...place, box: boxAt(place, wish) };
      if (!fits(own.box, window) || (place.leader && !leaderFits(place.leader, window))) continue;
      const under = clutter.labelsUnder(own.box, place.leader);
      if (!under) continue;
      const before = [...under].sort((a, b) => a - b).map((k) => [k, placed[k]] as const);
      for (const [k] of before) lift(k);
      put(i, own);
      let isGood = true;
      for (const [k] of before) {
        put(k, best(wishes[k]!, clutter, window));
        if (!placed[k] && wishes[k]!.isNeeded) isGood = false;
      }
      if (isGood) return;
      for (const [k] of before) if (placed[k]) lift(k);
      lift(i);
      for (const [k, place] of before) put(k, place);
    }
  }
}

function best(wish: LabelWish, clutter: Clutter, window: BoxMm): Placed {
  let found: Placed;
  let least = Infinity;
  for (const place of wish.places) {
    if (place.cost >= least) continue;
    const box = boxAt(place, wish);
    if (!fits(box, window)) continue;
    let cost = place.cost + clutter.costOfBox(box, least - place.cost);
    if (cost >= least) continue;
    if (place.leader) {
      if (!leaderFits(place.leader, window)) continue;
      cost += clutter.costOfLeader(place.leader);
    }
    if (cost < least) {
      least = cost;
      found = { ...place, box };
    }
  }
  return found;
}

function boxAt({ x, y }: LabelPlace, { widthMm, heightMm }: LabelWish): BoxMm {
  return {
    left: x - widthMm / 2,
    right: x + widthMm / 2,
    top: y - heightMm / 2,
    bottom: y + heightMm / 2,
  };
}

const fits = (box: BoxMm, window: BoxMm): boolean =>
  box.left >= window.left &&
  box.right <= window.right &&
  box.top >= window.top &&
  box.bottom <= window.bottom &&
  boxesMeet(box, window);

const leaderFits = ([ax, ay, bx, by]: SegmentMm, window: BoxMm): boolean =>
  inside([ax, ay], window) && inside([bx, by], window);

/** Places round a point: close by in all directions, then farther off with a leader line. */
export function placesRound(
  [px, py]: PointMm,
  widthMm: number,
  heightMm: number,
  options: {
    /** Room left free round the point. */
    readonly clearMm: number;
    /** Direction that is liked best, radians clockwise from the right (y is down). */
    readonly towards?: number | undefined;
    /** Lengths of leader lines to try. */
    readonly leadersMm?: readonly number[];
    /** What a millimetre of leader costs. */
    readonly leaderCost?: number;
  },
): LabelPlace[] {
  const { clearMm, towards, leadersMm = [], leaderCost = 0.6 } = options;
  const places: LabelPlace[] = [];
  const DIRECTIONS = 16;
  const start = towards ?? -Math.PI / 4;
  for (let k = 0; k < DIRECTIONS; k++) {
    const angle = start + (k * 2 * Math.PI) / DIRECTIONS;
    const turned = (Math.min(k, DIRECTIONS - k) * 2) / DIRECTIONS;
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    const reach = (free: number) => touching(cos, sin, widthMm, heightMm, free);
    const near = reach(clearMm);
    places.push({ x: px + cos * near, y: py + sin * near, cost: 2 * turned });
    for (const leaderMm of leadersMm) {
      const far = reach(clearMm + leaderMm);
      // From the marker's rim to the nearest place of the box.
      const [x, y] = [px + cos * far, py + sin * far];
      const endX = Math.max(x - widthMm / 2, Math.min(px, x + widthMm / 2));
      const endY = Math.max(y - heightMm / 2, Math.min(py, y + heightMm / 2));
      const length = Math.hypot(endX - px, endY - py);
      const share = Math.min(1, (clearMm * 0.8) / length);
      const leader: SegmentMm = [px + (endX - px) * share, py + (endY - py) * share, endX, endY];
      places.push({ x, y, cost: 3 + 2 * turned + leaderCost * leaderMm, leader });
    }
  }
  return places.sort((a, b) => a.cost - b.cost);
}

/** How far off the middle of a box must be, in a direction, to keep a distance from a point. */
function touching(cos: number, sin: number, width: number, height: number, free: number): number {
  const [halfW, halfH] = [width / 2, height / 2];
  // The box grown by the distance, with round corners: first its straight sides, then a corner.
  const [ax, ay] = [Math.abs(cos), Math.abs(sin)];
  const bySide = ax * halfH <= ay * halfW ? (halfH + free) / ay : (halfW + free) / ax;
  const [x, y] = [ax * bySide, ay * bySide];
  if (x <= halfW || y <= halfH) return bySide;
  const along = ax * halfW + ay * halfH;
  const off = halfW * halfW + halfH * halfH - free * free;
  return along + Math.sqrt(Math.max(0, along * along - off));
}
