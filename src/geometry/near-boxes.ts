import type { AreaM } from "../model/geometry.ts";
import { intersection } from "./overlay.ts";
import type { BoxM } from "./rings.ts";

/** For so few boxes areas are not cut down further. */
const FEW_BOXES = 3;
/** Cut down areas reach this much further than the boxes that they are for, metres. */
const SPARE_M = 0.5;

/**
 * For each box what of areas lies in it, and more: areas are cut down along with the boxes, which are
 * halved again and again. For k boxes that cover n vertices n log k, not n × k.
 */
export function areasNearBoxes(
  areas: readonly AreaM[],
  boxes: readonly BoxM[],
): (readonly AreaM[])[] {
  const near: (readonly AreaM[])[] = boxes.map(() => []);
  const share = (left: readonly AreaM[], numbers: readonly number[]): void => {
    if (numbers.length <= FEW_BOXES) {
      for (const i of numbers) near[i] = left;
      return;
    }
    const { minE, minN, maxE, maxN } = boxRound(numbers.map((i) => boxes[i]!));
    const middle = (i: number): number => {
      const box = boxes[i]!;
      return maxE - minE > maxN - minN ? box.minE + box.maxE : box.minN + box.maxN;
    };
    const sorted = [...numbers].sort((a, b) => middle(a) - middle(b));
    const half = sorted.length >> 1;
    for (const some of [sorted.slice(0, half), sorted.slice(half)]) {
      share(intersection(left, [windowRound(some.map((i) => boxes[i]!))]), some);
    }
  };
  share(
    areas,
    boxes.map((_, i) => i),
  );
  return near;
}

function boxRound(boxes: readonly BoxM[]): BoxM {
  const round = { minE: Infinity, minN: Infinity, maxE: -Infinity, maxN: -Infinity };
  for (const { minE, minN, maxE, maxN } of boxes) {
    round.minE = Math.min(round.minE, minE);
    round.minN = Math.min(round.minN, minN);
    round.maxE = Math.max(round.maxE, maxE);
    round.maxN = Math.max(round.maxN, maxN);
  }
  return round;
}

function windowRound(boxes: readonly BoxM[]): AreaM {
  const { minE, minN, maxE, maxN } = boxRound(boxes);
  const [w, s, e, n] = [minE - SPARE_M, minN - SPARE_M, maxE + SPARE_M, maxN + SPARE_M];
  return { shell: Float64Array.of(w, s, e, s, e, n, w, n), holes: [] };
}
