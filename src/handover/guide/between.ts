import type { WalkSpan } from "../walk.ts";
import type { Say, Value } from "./guide.ts";

/** Gaps between pegs within this of each other are even, metres. */
const EVEN_M = 0.02;

/** Pegs between the ends of a stretch and how far they are apart; nothing where there are none. */
export function betweenOf(spans: readonly WalkSpan[]): Say | "" {
  const inner = spans.slice(1).map(({ from }) => from.peg.number);
  const gaps = spans.map(({ lengthM }) => lengthM);
  const [least, most] = [Math.min(...gaps), Math.max(...gaps)];
  const [first] = inner;
  if (first === undefined) return "";
  if (inner.length === 1) {
    return { key: "between.one", values: { peg: first, gap: { lengthM: gaps[0]! } } };
  }
  return most - least <= EVEN_M
    ? {
        key: "between.even",
        values: { pegs: pegList(inner), gap: { lengthM: (least + most) / 2 } },
      }
    : {
        key: "between.uneven",
        values: { pegs: pegList(inner), least: { lengthM: least }, most: { lengthM: most } },
      };
}

/** Pegs in laying order, those in a row with numbers in a row as one: `A12, A203 to A207, A14`. */
export function pegList(numbers: readonly string[]): Value {
  const rows: [first: string, last: string][] = [];
  for (const number of numbers) {
    const row = rows.at(-1);
    if (row && follows(row[0], row[1], number)) row[1] = number;
    else rows.push([number, number]);
  }
  return {
    list: rows.map(([from, to]) =>
      from === to ? from : { key: "between.row", values: { from, to } },
    ),
  };
}

/** Whether a number is the next one of a row, upwards or downwards. */
function follows(first: string, last: string, number: string): boolean {
  const [a, b, c] = [first, last, number].map((one) => /^(.*?)(\d+)$/.exec(one));
  if (!a || !b || !c || b[1] !== c[1]) return false;
  const step = Number(c[2]) - Number(b[2]);
  if (Math.abs(step) !== 1) return false;
  return first === last || Math.sign(Number(b[2]) - Number(a[2])) === step;
}
