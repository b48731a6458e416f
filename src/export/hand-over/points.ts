/**
 * Pegs and fixed points for receivers and total stations, in the order of most of them: number,
 * northing, easting, height, code (common practice). As a table with headings, which `pegline` and
 * offices read; and without, for instruments, whose lines hold neither commas nor quotes in a field.
 */
import { xmlText } from "../../escape/xml.ts";
import type { ControlPoint } from "../../handover/setting-out/control-points.ts";
import type { PegRow } from "../../handover/setting-out/peg-table.ts";
import type { PointM } from "../../model/geometry.ts";
import { LENGTH_UNITS, type LengthUnit } from "../../model/hand-over-options.ts";
import type { SiteGrid } from "../../model/site.ts";
import { DEGREE_DECIMALS } from "../degrees.ts";
import { csvTable } from "./table.ts";

interface Point {
  readonly number: string;
  readonly atM: PointM;
  readonly heightM: number | undefined;
  /** First word: what it is; second: why it stands there. */
  readonly code: string;
}

function pointsOf(pegs: readonly PegRow[], controls: readonly ControlPoint[]): Point[] {
  return [
    ...controls.map(({ number, atM, kind }) => ({
      number,
      atM,
      heightM: undefined,
      code: `CONTROL ${kind.toUpperCase()}`,
    })),
    ...pegs.map(({ number, atM, heightM, wire, reason }) => ({
      number,
      atM,
      heightM,
      code: `PEG ${(wire === "guide" ? "guide" : reason).toUpperCase()}`,
    })),
  ];
}

/** Millimetres, or thousandths of a foot. */
const DECIMALS = 3;

/** With a row of headings. Northing and easting are those of the site grid. */
export function pointsCsv(
  pegs: readonly PegRow[],
  controls: readonly ControlPoint[],
  unit: LengthUnit,
): string {
  const named = (name: string) => (unit === "m" ? name : `${name} (${unit})`);
  const inUnit = (value: number) => Number((value / LENGTH_UNITS[unit]).toFixed(4));
  return csvTable(
    ["number", named("northing"), named("easting"), named("height"), "code"],
    pointsOf(pegs, controls).map(({ number, atM, heightM, code }) => [
      number,
      inUnit(atM[1]),
      inUnit(atM[0]),
      heightM === undefined ? null : inUnit(heightM),
      code,
    ]),
  );
}

/** Without headings; a height that is not known is left blank. Line ends as instruments want them. */
export function pointsText(
  pegs: readonly PegRow[],
  controls: readonly ControlPoint[],
  unit: LengthUnit,
): string {
  const inUnit = (value: number) => (value / LENGTH_UNITS[unit]).toFixed(DECIMALS);
  const lines = pointsOf(pegs, controls).map(({ number, atM, heightM, code }) =>
    [
      number,
      inUnit(atM[1]),
      inUnit(atM[0]),
      heightM === undefined ? "" : inUnit(heightM),
      code,
    ].join(","),
  );
  return lines.map((line) => `${line}\r\n`).join("");
}

/** Waypoints for handheld receivers (GPX 1.1), which find a peg to a few metres: degrees, no units. */
export function pointsGpx(
  site: string,
  pegs: readonly PegRow[],
  controls: readonly ControlPoint[],
  grid: SiteGrid,
): string {
  const waypoints = pointsOf(pegs, controls).map(({ number, atM, heightM, code }) => {
    const [lonDeg, latDeg] = grid.inverse(atM);
    const at = `lat="${latDeg.toFixed(DEGREE_DECIMALS)}" lon="${lonDeg.toFixed(DEGREE_DECIMALS)}"`;
    const height = heightM === undefined ? "" : `<ele>${heightM.toFixed(3)}</ele>`;
    return `<wpt ${at}>${height}<name>${xmlText(number)}</name><type>${code}</type></wpt>`;
  });
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx version="1.1" creator="pegline" xmlns="http://www.topografix.com/GPX/1/1">',
    `<metadata><name>${xmlText(site)}</name></metadata>`,
    ...waypoints,
    "</gpx>",
    "",
  ].join("\n");
}
