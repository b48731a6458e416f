/** Schedules: materials, bill, reels piece by piece, and the same wire from other reels. */

import type { PlannedJoint } from "../../handover/materials/joints.ts";
import type { MaterialLine, Materials } from "../../handover/materials/materials.ts";
import { decimalsOf } from "../../handover/prices.ts";
import { paragraph, type Section, tableSection } from "./flow.ts";
import { lettered } from "./lettering.ts";
import type { SheetWords } from "./words.ts";

const right = "right" as const;

/** @param reelM length of a reel of the plan */
export function materialsSection(
  { lines }: Materials,
  reelM: number,
  words: SheetWords,
  width: number,
): Section {
  const columns = [
    { head: words.material, share: 60 },
    { head: words.unit, share: 12 },
    { head: words.used, share: 15, align: right },
    { head: words.spare, share: 14, align: right },
    { head: words.toBuy, share: 14, align: right },
  ];
  const cells = lines.map((line) => {
    const figure = (value: number | undefined): string => {
      if (value === undefined) return words.unknown;
      return line.unit === "m" ? words.drawn(value) : String(value);
    };
    return [
      nameOf(line, reelM, words),
      line.unit === "m" ? "m" : words.pieces,
      figure(line.used),
      figure(line.spare),
      figure(line.toBuy),
    ];
  });
  const table = tableSection(words.materials, columns, cells, width);
  const note = paragraph(words.materialsNote, width, { beforeMm: 1.5 });
  return { ...table, isWhole: true, rows: [...table.rows, note] };
}

function nameOf({ material }: MaterialLine, reelM: number, words: SheetWords): string {
  return words.say(`material.${material}`, { reel: { sizeM: reelM } });
}

/** The priced schedule, where the user gave prices. */
export function billSection({ prices }: Materials, words: SheetWords, width: number): Section[] {
  if (!prices) return [];
  const { currency, lines, net, taxRate, tax, total } = prices;
  const decimals = decimalsOf(currency);
  const columns = [
    { head: words.item, share: 42 },
    { head: words.quantity, share: 17, align: right },
    { head: words.unitPrice, share: 18, align: right },
    { head: words.amount(currency), share: 23, align: right },
  ];
  const money = (value: number): string => words.number(value, decimals);
  const cells = [
    ...lines.map(({ name, quantity, unitPrice, amount }) => [
      lettered(name),
      words.number(quantity, Number.isInteger(quantity) ? 0 : 2),
      words.number(unitPrice, Math.max(decimals, decimalsIn(unitPrice))),
      money(amount),
    ]),
    [words.net, "", "", money(net)],
    [words.tax(words.number(100 * taxRate, decimalsIn(100 * taxRate))), "", "", money(tax)],
    [words.sum, "", "", money(total)],
  ];
  const table = tableSection(words.bill, columns, cells, width, { isLastBold: true });
  return [
    {
      ...table,
      isWhole: true,
      rows: [...table.rows, paragraph(words.billNote, width, { beforeMm: 1.5 })],
    },
  ];
}

/** Decimals that a figure has, at most 4. */
function decimalsIn(value: number): number {
  return [0, 1, 2, 3].find((n) => Math.abs(Number(value.toFixed(n)) - value) < 1e-9) ?? 4;
}

/** Piece by piece: which reel, which wire, where it ends, what stays on the reel. */
export function reelsSection(
  { reels, joints }: Materials,
  words: SheetWords,
  width: number,
): Section {
  const columns = [
    { head: words.reel, share: 10 },
    { head: words.loopHead, share: 20 },
    { head: words.from, share: 15, align: right },
    { head: words.to, share: 15, align: right },
    { head: words.cut, share: 15, align: right },
    { head: words.left, share: 14, align: right },
    { head: "", share: 2 },
    { head: words.endsAt, share: 20 },
  ];
  const cells = reels.flatMap((reel) => {
    let leftM = reel.lengthM;
    return reel.pieces.map(({ loop, wire, fromM, toM, lengthM }) => {
      leftM = Math.max(0, leftM - lengthM);
      const end = joints.find((one) => isJointAt(one, loop, wire, toM));
      return [
        String(reel.number),
        wire === "guide" ? words.guideOf(loop) : loop,
        words.drawn(fromM),
        words.drawn(toM),
        words.drawn(lengthM),
        words.drawn(leftM),
        "",
        end ? [end.peg, end.number].filter(Boolean).join(", ") : "",
      ];
    });
  });
  return tableSection(words.reels, columns, cells, width);
}

function isJointAt(one: PlannedJoint, loop: string, wire: string, atM: number): boolean {
  const isThere = one.joins === "reels" && one.loop === loop && one.wire === wire;
  return isThere && Math.abs(one.chainageM - atM) < 1e-6;
}

/** What the same wire takes from reels of other sizes. */
export function alternativesSection(
  { alternatives, prices }: Materials,
  words: SheetWords,
  width: number,
): Section {
  const hasPrice = prices !== undefined && alternatives.some((one) => one.total !== undefined);
  const columns = [
    { head: words.reelSize, share: 16, align: right },
    { head: words.count, share: 14, align: right },
    { head: words.couplers, share: 18, align: right },
    { head: words.leftOver, share: 16, align: right },
    ...(hasPrice ? [{ head: words.price(prices.currency), share: 22, align: right }] : []),
    { head: "", share: 2 },
    { head: "", share: 14 },
  ];
  const cells = alternatives.map((one) => [
    words.drawn(one.reelM),
    String(one.reels),
    String(one.joints),
    words.drawn(one.leftM),
    ...(hasPrice
      ? [one.total === undefined ? "–" : words.number(one.total, decimalsOf(prices.currency))]
      : []),
    "",
    one.chosen ? words.chosen : "",
  ]);
  return { ...tableSection(words.alternatives, columns, cells, width), isWhole: true };
}
