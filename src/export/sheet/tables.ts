/** The figures of a plan as sections of text; all come from the summary, so that they agree. */

import type { JointPeg, PlannedJoint } from "../../handover/materials/joints.ts";
import type { PegRow } from "../../handover/setting-out/peg-table.ts";
import type { EdgeKind } from "../../model/roles.ts";
import type { SheetTitle } from "../../model/sheet.ts";
import type { Summary } from "../summary.ts";
import { paragraph, type Section, tableSection } from "./flow.ts";
import { lettered } from "./lettering.ts";
import type { SheetWords } from "./words.ts";

/** What must not be overlooked, where a finding of severity error stands. */
export function errorSection({ findings }: Summary, words: SheetWords, width: number): Section[] {
  const errors = findings.filter((one) => one.severity === "error");
  if (errors.length === 0) return [];
  return [
    {
      title: words.errors,
      rows: [
        paragraph(words.errorsText(errors.length), width, { bold: true }),
        ...errors
          .slice(0, 6)
          .map((error) => paragraph(words.finding(error), width, { bullet: "–" })),
      ],
    },
  ];
}

export function loopsSection(summary: Summary, words: SheetWords, width: number): Section {
  const { loops, totals, terrain } = summary;
  const hasGround = terrain !== null;
  const right = "right" as const;
  const columns = [
    { head: words.loopHead, share: 9 },
    { head: words.wire, share: 14, align: right },
    ...(hasGround ? [{ head: words.onGround, share: 16, align: right }] : []),
    { head: words.pegs, share: 10, align: right },
    { head: words.paired, share: 16, align: right },
    { head: words.islands, share: 13, align: right },
    { head: words.mown, share: 17, align: right },
    { head: words.ohm, share: 11, align: right },
    { head: words.ohmRange, share: 19, align: right },
  ];
  const cells = loops.map((loop) => [
    loop.loop,
    words.drawn(loop.length_m),
    ...(hasGround ? [words.drawn(loop.ground_length_m ?? loop.length_m)] : []),
    String(loop.pegs),
    words.drawn(loop.paired_run_m),
    String(loop.exclusion_loops),
    words.drawn(loop.area_m2),
    words.number(loop.reading.at_20_c_ohm, 2),
    `${words.number(loop.reading.least_ohm, 2)}–${words.number(loop.reading.most_ohm, 2)}`,
  ]);
  const islands = loops.reduce((sum, loop) => sum + loop.exclusion_loops, 0);
  const sums = [
    words.total,
    words.drawn(totals.wire_m),
    ...(hasGround ? [words.drawn(totals.wire_ground_m ?? totals.wire_m)] : []),
    String(totals.pegs),
    words.drawn(totals.paired_run_m),
    String(islands),
    words.drawn(totals.mown_m2),
    "",
    "",
  ];
  const table = tableSection(words.loops, columns, [...cells, sums], width, { isLastBold: true });
  return { ...table, rows: [...table.rows, paragraph(words.ohmNote, width, { beforeMm: 1.5 })] };
}

export function quantitiesSection(
  { totals, profile_values }: Summary,
  words: SheetWords,
  width: number,
): Section {
  const laidM = (totals.wire_ground_m ?? totals.wire_m) + (totals.guide_ground_m ?? totals.guide_m);
  return {
    title: words.quantities,
    rows: [
      words.buyWire(words.drawn(totals.wire_to_buy_m), words.drawn(laidM)),
      words.buyPegs(totals.pegs_to_buy, totals.pegs + totals.guide_pegs),
      words.buyReels(totals.reels, words.number(profile_values.wire.reel_m, 0), totals.joints),
      words.areas(
        words.drawn(totals.mown_m2),
        words.drawn(totals.hand_trim_m2),
        words.drawn(totals.cut_off_m2),
      ),
    ].map((one) => paragraph(one, width)),
  };
}

export function passagesSection(
  { passages }: Summary,
  words: SheetWords,
  width: number,
): Section[] {
  if (passages.length === 0) return [];
  const right = "right" as const;
  const columns = [
    { head: words.passage, share: 10 },
    { head: words.width, share: 18, align: right },
    { head: words.wireWidth, share: 24, align: right },
    { head: "", share: 2 },
    { head: words.verdict, share: 40 },
  ];
  const cells = passages.map((one) => [
    `P${one.number}`,
    words.number(one.width_m, 2),
    words.number(one.wire_width_m, 2),
    "",
    words.verdicts[one.verdict],
  ]);
  return [tableSection(words.passages, columns, cells, width)];
}

/** What the profile says of set-ins, by kind of edge. */
export function setinsSection(
  { profile_values }: Summary,
  words: SheetWords,
  width: number,
): Section {
  const text = Object.entries(profile_values.setin_m)
    .map(([kind, value]) => `${words.edgeKind(kind as EdgeKind)} ${words.number(Number(value), 2)}`)
    .join(words.language === "en" ? ", " : "; ");
  return { title: words.setins, rows: [paragraph(`${text} (m).`, width)] };
}

export function cautionsSection({ cautions }: Summary, words: SheetWords, width: number): Section {
  return {
    title: words.cautions,
    rows: cautions.map(({ code, text }) =>
      paragraph(words.caution(code, lettered(text)), width, { bullet: "•" }),
    ),
  };
}

/** Every joint with the peg that it lies at. */
export function jointsSection(
  joints: readonly (JointPeg | PlannedJoint)[],
  pegs: readonly PegRow[],
  words: SheetWords,
  width: number,
): Section[] {
  if (joints.length === 0) return [];
  const right = "right" as const;
  const columns = [
    { head: words.joint, share: 10 },
    { head: words.peg, share: 14 },
    { head: words.along, share: 18, align: right },
    { head: "", share: 2 },
    { head: words.joins, share: 46 },
  ];
  const along = new Map(pegs.map((peg) => [peg.number, peg.groundChainageM ?? peg.chainageM]));
  const cells = joints.map((one) => {
    const alongM = "chainageM" in one ? one.chainageM : along.get(one.peg ?? "");
    return [
      one.number,
      one.peg ?? "",
      alongM === undefined ? "" : words.drawn(alongM),
      "",
      joinsText(one, words),
    ];
  });
  return [tableSection(words.joints, columns, cells, width)];
}

function joinsText(one: JointPeg | PlannedJoint, words: SheetWords): string {
  if (!("joins" in one)) return words.joinsWire(one.loop);
  return one.reels ? words.joinsReels(one.loop, ...one.reels) : words.joinsGuide(one.loop);
}

/** Earlier revisions, as the user lists them. */
export function revisionsSection(
  { revisions = [] }: SheetTitle,
  words: SheetWords,
  width: number,
): Section[] {
  if (revisions.length === 0) return [];
  const columns = [
    { head: words.revisionShort, share: 10 },
    { head: words.date, share: 24 },
    { head: words.revisedBy, share: 18 },
    { head: words.revisionText, share: 40 },
  ];
  const cells = revisions.map(({ revision, date = "", by = "", text = "" }) =>
    [revision, date, by, text].map(lettered),
  );
  return [tableSection(words.revisions, columns, cells, width)];
}

/** Every peg: along the wire, in the site grid, why it stands there. */
export function pegSection(rows: readonly PegRow[], words: SheetWords, width: number): Section[] {
  if (rows.length === 0) return [];
  const right = "right" as const;
  const hasGround = rows.some((row) => row.groundChainageM !== undefined);
  const columns = [
    { head: words.peg, share: 13 },
    { head: hasGround ? words.alongGround : words.along, share: 16, align: right },
    { head: words.again, share: 16, align: right },
    { head: words.east, share: 17, align: right },
    { head: words.north, share: 17, align: right },
    { head: "", share: 2 },
    { head: words.place, share: 14 },
  ];
  const figure = (value: number): string => words.number(value, 2);
  const cells = rows.map((row) => [
    row.number,
    figure(row.groundChainageM ?? row.chainageM),
    row.secondChainageM === undefined ? "" : figure(row.secondChainageM),
    figure(row.atM[0]),
    figure(row.atM[1]),
    "",
    words.places[row.reason],
  ]);
  const table = tableSection(words.pegTable, columns, cells, width);
  return [
    {
      ...table,
      isApart: true,
      rows: [...table.rows, paragraph(words.pegNote, width, { beforeMm: 1.5 })],
    },
  ];
}
