/** Pegs, fixed points, ties and offsets as tables. */
import type { ControlPoint } from "../../handover/setting-out/control-points.ts";
import type { Offsets } from "../../handover/setting-out/offsets.ts";
import type { PegRow } from "../../handover/setting-out/peg-table.ts";
import type { Ties } from "../../handover/setting-out/ties.ts";
import type { SiteGrid } from "../../model/site.ts";
import { positionOf } from "../degrees.ts";
import { csvTable, type LengthColumns } from "./table.ts";

export function pegsCsv(pegs: readonly PegRow[], grid: SiteGrid, columns: LengthColumns): string {
  const { heading, length } = columns;
  const headings = [
    ...["number", "loop", "wire", heading("chainage"), heading("second_chainage")],
    ...[heading("ground_chainage"), heading("easting"), heading("northing"), heading("height")],
    ...["longitude", "latitude", "reason"],
  ];
  const rows = pegs.map((peg) => [
    peg.number,
    peg.loop,
    peg.wire,
    length(peg.chainageM),
    length(peg.secondChainageM),
    length(peg.groundChainageM),
    length(peg.atM[0]),
    length(peg.atM[1]),
    length(peg.heightM),
    ...positionOf(peg.atM, grid),
    peg.reason,
  ]);
  return csvTable(headings, rows);
}

/** The fixed points that ties and offsets are measured from. */
export function controlsCsv(
  controls: readonly ControlPoint[],
  grid: SiteGrid,
  { heading, length }: LengthColumns,
): string {
  return csvTable(
    [
      "point",
      "name",
      "kind",
      "side",
      heading("easting"),
      heading("northing"),
      "longitude",
      "latitude",
      "line_from",
      "line_to",
      heading("along"),
      heading("line"),
    ],
    controls.map(({ number, name, kind, side, atM, mark }) => [
      number,
      name,
      kind,
      side,
      length(atM[0]),
      length(atM[1]),
      ...positionOf(atM, grid),
      mark?.from,
      mark?.to,
      length(mark?.alongM),
      length(mark?.lengthM),
    ]),
  );
}

export function tiesCsv({ rows }: Ties, columns: LengthColumns): string {
  const { heading, length, error, errorHeading } = columns;
  const headings = [
    ...["peg", "loop", "point_1", heading("tape_1"), "point_2", heading("tape_2"), "side"],
    ...["check_point", heading("check"), errorHeading],
    ...["check_point_2", heading("check_2"), `all_${errorHeading}`],
  ];
  return csvTable(
    headings,
    rows.map(({ peg, loop, tapes, side, checks, errorM, allErrorM }) => [
      peg,
      loop,
      tapes?.[0].from,
      length(tapes?.[0].distanceM),
      tapes?.[1].from,
      length(tapes?.[1].distanceM),
      side,
      checks[0]?.from,
      length(checks[0]?.distanceM),
      error(errorM),
      checks[1]?.from,
      length(checks[1]?.distanceM),
      error(allErrorM),
    ]),
  );
}

export function offsetsCsv({ rows }: Offsets, columns: LengthColumns): string {
  const { heading, length, error, errorHeading } = columns;
  const headings = [
    ...["peg", "loop", "point_1", "point_2", heading("along"), heading("offset"), "side"],
    ...["free", errorHeading],
  ];
  return csvTable(
    headings,
    rows.map((row) => [
      row.peg,
      row.loop,
      row.from,
      row.to,
      length(row.alongM),
      length(row.offsetM),
      row.side,
      row.isFree ? "yes" : "no",
      error(row.errorM),
    ]),
  );
}
