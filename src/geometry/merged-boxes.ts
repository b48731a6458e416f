import Flatbush from "flatbush";
import type { BoxM } from "./rings.ts";

/** Boxes grown by a distance and put together, until no two meet; in no order that means anything. */
export function mergedBoxes(boxes: readonly BoxM[], growM: number): BoxM[] {
  let left: BoxM[] = boxes.map(({ minE, minN, maxE, maxN }) => ({
    minE: minE - growM,
    minN: minN - growM,
    maxE: maxE + growM,
    maxN: maxN + growM,
  }));
  for (let before = Infinity; left.length > 1 && left.length < before; ) {
    before = left.length;
    left = mergedOnce(left);
  }
  return left;
}

function mergedOnce(boxes: readonly BoxM[]): BoxM[] {
  const index = new Flatbush(boxes.length);
  for (const box of boxes) index.add(box.minE, box.minN, box.maxE, box.maxN);
  index.finish();
  const taken = new Uint8Array(boxes.length);
  const merged: BoxM[] = [];
  boxes.forEach((first, i) => {
    if (taken[i]) return;
    const box = { ...first };
    for (let more = true; more; ) {
      more = false;
      for (const k of index.search(box.minE, box.minN, box.maxE, box.maxN)) {
        if (taken[k]) continue;
        taken[k] = 1;
        more = true;
        const one = boxes[k]!;
        box.minE = Math.min(box.minE, one.minE);
        box.minN = Math.min(box.minN, one.minN);
        box.maxE = Math.max(box.maxE, one.maxE);
        box.maxN = Math.max(box.maxN, one.maxN);
      }
    }
    merged.push(box);
  });
  return merged;
}
