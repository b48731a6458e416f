import type { WalkSpan } from "../walk.ts";
import type { Say } from "./guide.ts";

/** Gaps between pegs within this of each other are even, metres. */
const EVEN_M = 0.02;

/** Pegs between the ends of a stretch and how far they are apart; nothing where there are none. */
export function betweenOf(spans: readonly WalkSpan[]): Say | "" {
  const inner = spans.slice(1).map(({ from }) => from.peg.number);
  const gaps = spans.map(({ lengthM }) => lengthM);
  const [least, most] = [Math.min(...gaps), Math.max(...gaps)];
  const [from, to] = [inner[0], inner.at(-1)];
  if (from === undefined || to === undefined) return "";
  if (inner.length === 1) {
    return { key: "between.one", values: { peg: from, gap: { lengthM: gaps[0]! } } };
  }
  return most - least <= EVEN_M
    ? { key: "between.even", values: { from, to, gap: { lengthM: (least + most) / 2 } } }
    : {
        key: "between.uneven",
        values: { from, to, least: { lengthM: least }, most: { lengthM: most } },
      };
}
