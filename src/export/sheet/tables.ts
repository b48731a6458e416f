/** The figures of a plan as sections of text; all come from the summary, so that they agree. */

import type { Materials } from "../../handover/materials/materials.ts";
import type { PegRow } from "../../handover/setting-out/peg-table.ts";
import type { EdgeKind } from "../../model/roles.ts";
import type { SheetTitle } from "../../model/sheet.ts";
import type { Summary } from "../summary.ts";
import { drawn } from "./figures.ts";
import { paragraph, type Section, tableSection } from "./flow.ts";
import { lettered } from "./lettering.ts";
import { EDGE_WORDS, WORDS } from "./words.ts";

/** What must not be overlooked, where a finding of severity error stands. */
export function errorSection({ findings }: Summary, width: number): Section[] {
  const errors = findings.filter((one) => one.severity === "error");
  if (errors.length === 0) return [];
  return [
    {
      title: WORDS.errors,
      rows: [
        paragraph(WORDS.errorsText(errors.length), width, { bold: true }),
        ...errors
          .slice(0, 6)
          .map(({ message, code }) =>
            paragraph(`${code}: ${lettered(message)}`, width, { bullet: "–" }),
          ),
      ],
    },
  ];
}

export function loopsSection(summary: Summary, width: number): Section {
  const { loops, totals, terrain } = summary;
  const hasGround = terrain !== null;
  const right = "right" as const;
  const columns = [
    { head: WORDS.loop, share: 9 },
    { head: WORDS.wire, share: 14, align: right },
    ...(hasGround ? [{ head: WORDS.onGround, share: 16, align: right }] : []),
    { head: WORDS.pegs, share: 10, align: right },
    { head: WORDS.paired, share: 16, align: right },
    { head: WORDS.islands, share: 13, align: right },
    { head: WORDS.mown, share: 17, align: right },
    { head: WORDS.ohm, share: 11, align: right },
  ];
  const cells = loops.map((loop) => [
    loop.loop,
    drawn(loop.length_m),
    ...(hasGround ? [drawn(loop.ground_length_m ?? loop.length_m)] : []),
    String(loop.pegs),
    drawn(loop.paired_run_m),
    String(loop.exclusion_loops),
    drawn(loop.area_m2),
    loop.reading.at_20_c_ohm.toFixed(2),
  ]);
  const islands = loops.reduce((sum, loop) => sum + loop.exclusion_loops, 0);
  const sums = [
    WORDS.total,
    drawn(totals.wire_m),
    ...(hasGround ? [drawn(totals.wire_ground_m ?? totals.wire_m)] : []),
    String(totals.pegs),
    drawn(totals.paired_run_m),
    String(islands),
    drawn(totals.mown_m2),
    "",
  ];
  const table = tableSection(WORDS.loops, columns, [...cells, sums], width, { isLastBold: true });
  return { ...table, rows: [...table.rows, paragraph(WORDS.ohmNote, width, { beforeMm: 1.5 })] };
}

export function quantitiesSection({ totals, profile_values }: Summary, width: number): Section {
  const laidM = (totals.wire_ground_m ?? totals.wire_m) + (totals.guide_ground_m ?? totals.guide_m);
  return {
    title: WORDS.quantities,
    rows: [
      WORDS.buyWire(drawn(totals.wire_to_buy_m), drawn(laidM)),
      WORDS.buyPegs(totals.pegs_to_buy, totals.pegs + totals.guide_pegs),
      WORDS.buyReels(totals.reels, String(profile_values.wire.reel_m), totals.joints),
      WORDS.areas(drawn(totals.mown_m2), drawn(totals.hand_trim_m2), drawn(totals.cut_off_m2)),
    ].map((one) => paragraph(one, width)),
  };
}

export function passagesSection({ passages }: Summary, width: number): Section[] {
  if (passages.length === 0) return [];
  const right = "right" as const;
  const columns = [
    { head: WORDS.passage, share: 10 },
    { head: WORDS.width, share: 18, align: right },
    { head: WORDS.wireWidth, share: 24, align: right },
    { head: "", share: 2 },
    { head: WORDS.verdict, share: 40 },
  ];
  const cells = passages.map((one) => [
    `P${one.number}`,
    one.width_m.toFixed(2),
    one.wire_width_m.toFixed(2),
    "",
    WORDS.verdicts[one.verdict],
  ]);
  return [tableSection(WORDS.passages, columns, cells, width)];
}

/** What the profile says of set-ins, by kind of edge. */
export function setinsSection({ profile_values }: Summary, width: number): Section {
  const text = Object.entries(profile_values.setin_m)
    .map(([kind, value]) => `${EDGE_WORDS[kind as EdgeKind] ?? kind} ${Number(value).toFixed(2)}`)
    .join(", ");
  return { title: WORDS.setins, rows: [paragraph(`${text} (m).`, width)] };
}

export function cautionsSection({ cautions }: Summary, width: number): Section {
  return {
    title: WORDS.cautions,
    rows: cautions.map(({ text }) => paragraph(lettered(text), width, { bullet: "•" })),
  };
}

/** Every joint with the peg that it lies at. */
export function jointsSection({ joints }: Materials, width: number): Section[] {
  if (joints.length === 0) return [];
  const right = "right" as const;
  const columns = [
    { head: WORDS.joint, share: 10 },
    { head: WORDS.peg, share: 14 },
    { head: WORDS.along, share: 18, align: right },
    { head: "", share: 2 },
    { head: WORDS.joins, share: 46 },
  ];
  const cells = joints.map((one) => [
    one.number,
    one.peg ?? "",
    drawn(one.chainageM),
    "",
    one.reels ? WORDS.joinsReels(one.loop, ...one.reels) : WORDS.joinsGuide(one.loop),
  ]);
  return [tableSection(WORDS.joints, columns, cells, width)];
}

/** Earlier revisions, as the user lists them. */
export function revisionsSection({ revisions = [] }: SheetTitle, width: number): Section[] {
  if (revisions.length === 0) return [];
  const columns = [
    { head: WORDS.revisionShort, share: 10 },
    { head: WORDS.date, share: 24 },
    { head: WORDS.revisedBy, share: 18 },
    { head: WORDS.revisionText, share: 40 },
  ];
  const cells = revisions.map(({ revision, date = "", by = "", text = "" }) =>
    [revision, date, by, text].map(lettered),
  );
  return [tableSection(WORDS.revisions, columns, cells, width)];
}

/** Every peg: along the wire, in the site grid, why it stands there. */
export function pegSection(rows: readonly PegRow[], width: number): Section[] {
  if (rows.length === 0) return [];
  const right = "right" as const;
  const hasGround = rows.some((row) => row.groundChainageM !== undefined);
  const columns = [
    { head: WORDS.peg, share: 13 },
    { head: hasGround ? WORDS.alongGround : WORDS.along, share: 16, align: right },
    { head: WORDS.again, share: 16, align: right },
    { head: WORDS.east, share: 17, align: right },
    { head: WORDS.north_, share: 17, align: right },
    { head: "", share: 2 },
    { head: WORDS.place, share: 14 },
  ];
  const cells = rows.map((row) => [
    row.number,
    (row.groundChainageM ?? row.chainageM).toFixed(2),
    row.secondChainageM?.toFixed(2) ?? "",
    row.atM[0].toFixed(2),
    row.atM[1].toFixed(2),
    "",
    WORDS.places[row.reason],
  ]);
  const table = tableSection(WORDS.pegTable, columns, cells, width);
  return [
    {
      ...table,
      isApart: true,
      rows: [...table.rows, paragraph(WORDS.pegNote, width, { beforeMm: 1.5 })],
    },
  ];
}
