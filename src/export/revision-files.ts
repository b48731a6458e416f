import type { Feature, Geometry } from "geojson";
import type { Revision } from "../handover/revision/revision.ts";
import type { SiteGrid } from "../model/site.ts";
import { collectionText } from "./collection-text.ts";
import { lineInDegrees, positionOf } from "./degrees.ts";
import { lengthM } from "./numbers.ts";
import { table } from "./plain-text.ts";
import type { PlanFile } from "./plan-files.ts";
import { REVISION_FILE_NAME } from "./revision-name.ts";

/** What `pegline revise` prints beside the summary, and `revision.geojson` in figures. */
export function revisionResult({ totals, wires }: Revision) {
  return {
    kept_m: lengthM(totals.keptM),
    lifted_m: lengthM(totals.liftedM),
    new_m: lengthM(totals.newM),
    pegs_kept: totals.pegsKept,
    pegs_lifted: totals.pegsLifted,
    pegs_new: totals.pegsNew,
    couplers: totals.couplers,
    wire_to_buy_m: lengthM(totals.wireToBuyM),
    pegs_to_buy: totals.pegsToBuy,
    pieces: wires.map(({ does, loop, from, to, lengthM: along }) => ({
      does,
      loop,
      from,
      to,
      length_m: lengthM(along),
    })),
  };
}

/** Pegs and wires, each with what becomes of it. */
export function revisionFile({ pegs, wires }: Revision, grid: SiteGrid): PlanFile {
  const features: Feature<Geometry>[] = [
    ...wires.map(
      (one): Feature<Geometry> => ({
        type: "Feature",
        properties: {
          kind: `wire-${one.does}`,
          loop: one.loop,
          from: one.from,
          to: one.to,
          length_m: lengthM(one.lengthM),
        },
        geometry: { type: "LineString", coordinates: lineInDegrees(one.line, grid) },
      }),
    ),
    ...pegs.map(
      (one): Feature<Geometry> => ({
        type: "Feature",
        properties: {
          kind: `peg-${one.does}`,
          number: one.number,
          ...(one.was === undefined ? {} : { was: one.was }),
        },
        geometry: { type: "Point", coordinates: positionOf(one.atM, grid) },
      }),
    ),
  ];
  return { name: REVISION_FILE_NAME, text: collectionText(features) };
}

/** The revision for people. */
export function revisionText(revision: Revision): string {
  const { totals, wires } = revision;
  const m = (value: number): string => `${value.toFixed(1)} m`;
  const rows = table(
    [
      ["", "wire", "pegs"],
      ["stays", m(totals.keptM), String(totals.pegsKept)],
      ["lifted", m(totals.liftedM), String(totals.pegsLifted)],
      ["new", m(totals.newM), String(totals.pegsNew)],
      ["to buy", m(totals.wireToBuyM), String(totals.pegsToBuy)],
    ],
    1,
    2,
  );
  const fresh = wires.filter((one) => one.does !== "stays").slice(0, 20);
  return [
    "Revision of the wire in the ground",
    ...rows.map((row) => `  ${row}`),
    `  ${totals.couplers} sealed couplers`,
    ...fresh.map(
      ({ does, from, to, lengthM: along }) =>
        `  ${does === "new" ? "Lay" : "Lift"} ${from} to ${to}, ${m(along)}`,
    ),
    "",
    "",
  ].join("\n");
}
