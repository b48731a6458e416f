/** The files of the hand-over: their totals are those of summary.json, and what is read back is the plan. */
import Papa from "papaparse";
import { beforeAll, describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { handOverFiles } from "../../src/export/hand-over/hand-over-files.ts";
import { PLAN_FILE_NAMES } from "../../src/export/plan-files.ts";
import type { PlanResult } from "../../src/export/plan-result.ts";
import { summaryOf } from "../../src/export/summary.ts";
import { builtInProfile, planInputs, readInputs } from "../../src/index.ts";
import { type HandOverOptions, LISTS } from "../../src/model/hand-over-options.ts";
import type { PriceList } from "../../src/model/site-rules.ts";
import { geojsonInput } from "../support/planning.ts";
import { schoolGround } from "../support/school.ts";

const FORMULA = '=HYPERLINK("http://example.invalid","x")';
const PRICES: PriceList = {
  currency: "EUR",
  taxRate: 0.2,
  items: [
    { name: FORMULA, per: "wire_m", unitPrice: 0.4 },
    { name: "Reel of 200", per: "reel", unitPrice: 80, reelM: 200 },
    { name: "Reel of 500", per: "reel", unitPrice: 180, reelM: 500 },
    { name: "Coupler", per: "coupler", unitPrice: 2.5 },
    { name: "Lead", per: "lead_m", unitPrice: 3 },
    { name: "Screw", per: "fixing", unitPrice: 0.3 },
  ],
};

let result: PlanResult;
const written = new Map<string, string>();

async function write(options: HandOverOptions) {
  const { files } = await handOverFiles(result, options);
  return new Map(files.map(({ name, text }) => [name, text]));
}

type Row = Readonly<Record<string, string>>;
/** Cells by a parser of its own; the line end of the last row is no row. */
const cellsOf = (text: string): string[][] =>
  (Papa.parse(text, { delimiter: "," }).data as string[][]).filter((row) => row.length > 1);
const rowsOf = (text: string): Row[] => {
  const [headings, ...rows] = cellsOf(text);
  return rows.map((row) => Object.fromEntries(headings!.map((name, i) => [name, row[i]!])));
};

beforeAll(async () => {
  const corner = {
    type: "Feature" as const,
    properties: { role: "control", name: "@SUM(1+1)" },
    geometry: { type: "Point" as const, coordinates: [-31.2, 44.6] },
  };
  const outcome = await planInputs([geojsonInput([...schoolGround().features, corner])], {
    profile: builtInProfile("large"),
    rules: { prices: PRICES },
    registry: epsgRegistry,
  });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  result = outcome.value;
  for (const [name, text] of await write({ lists: LISTS })) written.set(name, text);
}, 60_000);

describe("the files", () => {
  it("are guide, materials, bill and pegs, and what is asked for; all of them known as ours", async () => {
    expect([...(await write({})).keys()]).toEqual([
      "guide.txt",
      "materials.csv",
      "bill.csv",
      "pegs.csv",
    ]);
    expect([...(await write({ lists: ["ties"] })).keys()].slice(4)).toEqual([
      "controls.csv",
      "ties.csv",
    ]);
    expect(PLAN_FILE_NAMES).toEqual(expect.arrayContaining([...written.keys()]));
  });

  it("are the same bytes for the same plan", async () => {
    expect(await write({ lists: LISTS })).toEqual(written);
  });

  it("hold nothing that a spreadsheet would run (OWASP, CSV injection)", () => {
    const isNumber = (cell: string) => /^-?\d+(\.\d+)?$/.test(cell);
    const runs = [...written].flatMap(([name, text]) =>
      name.endsWith(".csv")
        ? cellsOf(text)
            .flat()
            .filter((cell) => !isNumber(cell) && /^\s*[=+\-@]/.test(cell))
        : [],
    );
    expect(runs).toEqual([]);
    expect(rowsOf(written.get("bill.csv")!)[0]!.item).toBe(`'${FORMULA}`);
    expect(rowsOf(written.get("controls.csv")!)[0]!.name).toBe("'@SUM(1+1)");
  });
});

describe("totals", () => {
  it("of materials, reels, pegs and bill are those of summary.json", () => {
    const { totals, prices } = summaryOf(result);
    const materials = rowsOf(written.get("materials.csv")!);
    const toBuy = (material: string) =>
      Number(materials.find((row) => row.material === material && row.loop === "")!.to_buy);
    expect(toBuy("wire")).toBe(totals.wire_to_buy_m);
    expect(toBuy("reels")).toBe(totals.reels);
    expect(toBuy("pegs")).toBe(totals.pegs_to_buy);
    expect(toBuy("couplers")).toBe(totals.joints);
    expect(toBuy("connectors")).toBe(totals.connectors);
    expect(toBuy("fixings")).toBe(totals.fixings);
    expect(toBuy("stations")).toBe(totals.stations);
    expect(toBuy("lead")).toBe(totals.lead_m);
    const sum = (rows: readonly Row[], key: string) =>
      rows.reduce((total, row) => total + Number(row[key]), 0);
    const wires = materials.filter((row) => row.loop !== "");
    expect(sum(wires, "to_buy")).toBeCloseTo(totals.wire_to_buy_m, 3);
    const reels = rowsOf(written.get("reels.csv")!);
    expect(sum(reels, "cut_m")).toBeCloseTo(totals.wire_to_buy_m, 3);
    expect(new Set(reels.map((row) => row.reel)).size).toBe(totals.reels);
    const guides = result.plan.loops.reduce((count, loop) => count + loop.guideWires.length, 0);
    expect(reels.filter((row) => row.joint).length + guides).toBe(totals.joints);
    const sizes = rowsOf(written.get("reel-sizes.csv")!);
    const own = sizes.find((row) => row.chosen === "yes")!;
    expect(Number(own.reels)).toBe(totals.reels);
    expect(Number(own.left_m)).toBe(totals.left_on_reels_m);
    expect(Number(own.total)).toBe(prices!.total);
    expect(sizes.map((row) => row.reel_m)).toEqual(["200", "500"]);
    const bill = rowsOf(written.get("bill.csv")!);
    expect(Number(bill.find((row) => row.item === "total")!.amount)).toBe(prices!.total);
    expect(Number(bill.find((row) => row.item === "tax")!.amount)).toBe(prices!.tax);
    expect(rowsOf(written.get("pegs.csv")!).length).toBe(totals.pegs + totals.guide_pegs);
  });

  it("in feet are the same lengths", async () => {
    const feet = await write({ units: "ft", lists: LISTS });
    for (const name of ["pegs.csv", "ties.csv", "offsets.csv", "reels.csv", "controls.csv"]) {
      const [metres, other] = [rowsOf(written.get(name)!), rowsOf(feet.get(name)!)];
      expect(other.length).toBe(metres.length);
      const offM = metres.flatMap((row, i) =>
        Object.entries(row).flatMap(([key, value]) => {
          if (!key.endsWith("_m")) return [];
          const inFeet = other[i]![`${key.slice(0, -2)}_ft`]!;
          if (value === "" || inFeet === "") return value === inFeet ? [] : [Infinity];
          return [Math.abs(Number(inFeet) * 0.3048 - Number(value))];
        }),
      );
      expect(offM.length).toBeGreaterThan(0);
      expect(Math.max(...offM), name).toBeLessThan(1e-4);
    }
    expect(feet.get("guide.txt")).toMatch(/\d ft \d/);
  });
});

describe("read back by our own readers", () => {
  const read = async (name: string, text = written.get(name)!) => {
    const layers = await readInputs([{ name, bytes: new TextEncoder().encode(text) }], {});
    if (!layers.ok) throw new Error(layers.problem.message);
    return layers.value.flatMap((layer) => layer.features);
  };

  it.each(["m", "ft"] as const)(
    "points.csv in %s is every peg and fixed point at its place",
    async (units) => {
      const text = (await write({ units, lists: ["points"] })).get("points.csv")!;
      const { layers, points } = await (async () => {
        const outcome = await readInputs(
          [{ name: "points.csv", bytes: new TextEncoder().encode(text) }],
          {},
        );
        if (!outcome.ok) throw new Error(outcome.problem.message);
        return { layers: outcome.value, points: outcome.value.flatMap((one) => one.features) };
      })();
      const unitM = layers[0]!.unitM ?? 1;
      const placeOf = new Map(
        result.plan.loops.flatMap((loop) => loop.pegs.map((peg) => [peg.number, peg.atM] as const)),
      );
      let seen = 0;
      for (const { geometry, properties } of points) {
        const at = placeOf.get(String(properties.number));
        if (!at || geometry?.type !== "Point") continue;
        seen++;
        const [e, n] = geometry.coordinates as [number, number];
        expect(Math.hypot(e * unitM - at[0], n * unitM - at[1])).toBeLessThan(2e-4);
      }
      expect(seen).toBe(placeOf.size);
      expect(new Set(layers.map(({ layer }) => layer))).toEqual(new Set(["PEG", "CONTROL"]));
    },
  );

  it("pegs.gpx is every peg in degrees", async () => {
    const points = await read("pegs.gpx");
    const placeOf = new Map(points.map((one) => [String(one.properties.name), one.geometry]));
    for (const loop of result.plan.loops) {
      for (const peg of loop.pegs) {
        const geometry = placeOf.get(peg.number);
        if (geometry?.type !== "Point") throw new Error(`${peg.number} is missing`);
        const at = result.plan.grid.forward(geometry.coordinates as [number, number]);
        expect(Math.hypot(at[0] - peg.atM[0], at[1] - peg.atM[1])).toBeLessThan(2e-4);
      }
    }
  });

  it("points.txt has five fields a line for instruments: number, northing, easting, height, code", () => {
    const lines = written.get("points.txt")!.split("\r\n").slice(0, -1);
    const table = rowsOf(written.get("points.csv")!);
    expect(lines.length).toBe(table.length);
    lines.forEach((line, i) => {
      const fields = line.split(",");
      expect(fields.length).toBe(5);
      expect(fields[0]).toBe(table[i]!.number);
      expect(Math.abs(Number(fields[1]) - Number(table[i]!.northing))).toBeLessThan(6e-4);
      expect(Math.abs(Number(fields[2]) - Number(table[i]!.easting))).toBeLessThan(6e-4);
    });
  });
});

it("pegs that no tape reaches are told where ties are asked for", async () => {
  const { findings } = await handOverFiles(result, { lists: ["ties"] });
  const open = rowsOf(written.get("ties.csv")!).filter((row) => row.point_1 === "").length;
  if (open === 0) expect(findings).toEqual([]);
  else expect(findings[0]).toMatchObject({ code: "TIES_INCOMPLETE", severity: "info" });
  expect((await handOverFiles(result)).findings).toEqual([]);
});
