/** Materials, bill and reels as tables. */
import type { Materials } from "../../handover/materials/materials.ts";
import type { Speak } from "../../handover/words/catalogue.ts";
import { csvTable, type LengthColumns } from "./table.ts";

/** What to buy, and the wire of each loop. Names of materials in the language of the guide. */
export function materialsCsv(
  { lines, loops }: Materials,
  reelM: number,
  speak: Speak,
  columns: LengthColumns,
): string {
  const { length, unit } = columns;
  const rows = lines.map((line) => {
    const isLength = line.unit === "m";
    const value = (one: number | undefined) => (isLength ? length(one) : one);
    const name = speak({ key: `material.${line.material}`, values: { reel: { sizeM: reelM } } });
    const unitName = isLength ? unit : "pieces";
    return [
      line.material,
      name,
      null,
      unitName,
      value(line.used),
      value(line.spare),
      value(line.toBuy),
    ];
  });
  const wires = loops.map((loop) => [
    "wire",
    speak({ key: "material.wire" }),
    loop.loop,
    unit,
    length(loop.laidM),
    length(loop.slackM + loop.spareEndsM),
    length(loop.toCutM),
  ]);
  return csvTable(
    ["material", "name", "loop", "unit", "used", "spare", "to_buy"],
    [...rows, ...wires],
  );
}

/** The bill, where there are prices. */
export function billCsv({ prices }: Materials): string | undefined {
  if (!prices) return undefined;
  const { currency, lines, net, taxRate, tax, total } = prices;
  return csvTable(
    ["item", "per", "quantity", "unit_price", "amount", "currency"],
    [
      ...lines.map((one) => [one.name, one.per, one.quantity, one.unitPrice, one.amount, currency]),
      ["net", null, null, null, net, currency],
      ["tax", null, taxRate, null, tax, currency],
      ["total", null, null, null, total, currency],
    ],
  );
}

/** Piece by piece: which reel, which wire, from where to where, and what is left. */
export function reelsCsv({ reels, joints }: Materials, columns: LengthColumns): string {
  const { heading, length } = columns;
  const jointAt = (loop: string, wire: string, chainageM: number) =>
    joints.find(
      (one) =>
        one.joins === "reels" &&
        one.loop === loop &&
        one.wire === wire &&
        Math.abs(one.chainageM - chainageM) < 1e-6,
    );
  const rows = reels.flatMap((reel) => {
    let leftM = reel.lengthM;
    return reel.pieces.map((piece, i) => {
      leftM = Math.max(0, leftM - piece.lengthM);
      const start = jointAt(piece.loop, piece.wire, piece.fromM);
      const end = jointAt(piece.loop, piece.wire, piece.toM);
      return [
        reel.number,
        i + 1,
        piece.loop,
        piece.wire,
        length(piece.fromM),
        length(piece.toM),
        start?.peg,
        end?.peg,
        end?.number,
        length(piece.lengthM),
        length(leftM),
      ];
    });
  });
  const headings = [
    ...["reel", "piece", "loop", "wire", heading("from"), heading("to")],
    ...["from_peg", "to_peg", "joint", heading("cut"), heading("left")],
  ];
  return csvTable(headings, rows);
}

/** The same wire from reels of other sizes. */
export function reelSizesCsv({ alternatives, prices }: Materials, columns: LengthColumns): string {
  const { heading, length } = columns;
  return csvTable(
    [
      heading("reel"),
      "reels",
      "couplers",
      heading("bought"),
      heading("left"),
      "total",
      "currency",
      "chosen",
    ],
    alternatives.map((one) => [
      length(one.reelM),
      one.reels,
      one.joints,
      length(one.boughtM),
      length(one.leftM),
      one.total,
      one.total === undefined ? null : prices?.currency,
      one.chosen ? "yes" : "no",
    ]),
  );
}
