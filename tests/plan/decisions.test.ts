/** The planner's decisions one by one, on shapes whose answer is elementary geometry. */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { areaM2, discRing, lineLengthM, ringContains } from "../../src/geometry/rings.ts";
import type { AreaM, PointM, RingM } from "../../src/model/geometry.ts";
import type { EdgeLine, PlacedPoint, Site, Thing } from "../../src/model/site.ts";
import { bridgeSides } from "../../src/plan/beyond.ts";
import { labelEdges } from "../../src/plan/edge-kinds.ts";
import { loopName } from "../../src/plan/loop-name.ts";
import { joinFirmThings } from "../../src/plan/obstacles.ts";
import { findParts } from "../../src/plan/parts.ts";
import { planSite } from "../../src/plan/plan-site.ts";
import { setIn } from "../../src/plan/setin.ts";
import { shareStations } from "../../src/plan/share-stations.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { box, siteOf, thingOf } from "./shapes.ts";

beforeAll(() => loadEngine());

const profile = builtInProfile("medium");

function disc(e: number, n: number, radiusM: number): AreaM {
  return { shell: discRing([e, n], radiusM), holes: [] };
}

function planned(site: Site) {
  const outcome = planSite(site, profile);
  if (!outcome.ok) throw new Error(outcome.problem.code);
  return outcome.value;
}

describe("edge kinds", () => {
  const lawn = box(0, 0, 20, 10);

  it("label an edge line's stretch from where it begins to where it ends", () => {
    const fence: EdgeLine = { kind: "fence", line: Float64Array.of(4, -0.2, 11, -0.2), source: {} };
    const runs = labelEdges([lawn], siteOf([lawn], { edgeLines: [fence] }), profile);
    const fenced = runs.filter((run) => run.label.kind === "fence");
    expect(fenced).toHaveLength(1);
    expect([...fenced[0]!.line]).toEqual([4, 0, 11, 0]);
    const open = runs.filter((run) => run.label.kind === "open");
    expect(open.reduce((sum, run) => sum + lineLengthM(run.line), 0)).toBeCloseTo(53, 9);
  });

  it("leave alone what stands across or too far off", () => {
    const lines: EdgeLine[] = [
      { kind: "fence", line: Float64Array.of(5, -3, 5, 0), source: {} },
      { kind: "wall", line: Float64Array.of(0, -0.5, 20, -0.5), source: {} },
    ];
    const runs = labelEdges([lawn], siteOf([lawn], { edgeLines: lines }), profile);
    expect(runs.map((run) => run.label.kind)).toEqual(["open"]);
  });

  it("take the wall of a house that the lawn runs along, and set the wire in by it", () => {
    const house = thingOf("house", box(-5, 2, 0, 8), {
      role: "building",
      contact: "firm",
      edgeKind: "wall",
    });
    const runs = labelEdges([lawn], siteOf([lawn], { things: [house] }), profile);
    const wall = runs.filter((run) => run.label.kind === "wall");
    expect(wall.map((run) => lineLengthM(run.line))).toEqual([6]);
    const [region] = setIn([lawn], runs, []);
    // Elementary: (20 − 0.6)(10 − 0.6) less a 5 cm strip along the wall and round its two ends.
    const lost = 19.4 * 9.4 - areaM2(region!);
    expect(lost).toBeGreaterThan(0.05 * 6);
    expect(lost).toBeLessThan(0.05 * 6 + 2 * 0.05 * 0.35);
  });
});

describe("parts", () => {
  it("are one rectangle, corners and all", () => {
    const { parts, narrow } = findParts([box(0, 0, 20, 10)], 0.9);
    expect(parts.map(areaM2)).toEqual([200]);
    expect(narrow).toEqual([]);
  });

  it("fall apart at a neck narrower than the machine drives through, and only there", () => {
    const neck = (width: number): AreaM[] => [
      {
        shell: Float64Array.of(
          ...[0, 0, 10, 0, 10, 4, 14, 4, 14, 0, 24, 0, 24, 10, 14, 10],
          ...[14, 4 + width, 10, 4 + width, 10, 10, 0, 10],
        ),
        holes: [],
      },
    ];
    expect(findParts(neck(0.89), 0.9).parts.map((p) => Math.round(areaM2(p)))).toEqual([100, 100]);
    expect(findParts(neck(0.91), 0.9).parts).toHaveLength(1);
  });

  it("fall apart at a gate so short that discs on both sides of it overlap", () => {
    const gate = (width: number, lengthM: number): AreaM[] => [
      {
        shell: Float64Array.of(
          ...[0, 0, 10, 0, 10, 4, 10 + lengthM, 4, 10 + lengthM, 0, 20 + lengthM, 0],
          ...[
            20 + lengthM,
            10,
            10 + lengthM,
            10,
            10 + lengthM,
            4 + width,
            10,
            4 + width,
            10,
            10,
            0,
            10,
          ],
        ),
        holes: [],
      },
    ];
    for (const lengthM of [0.05, 0.2, 0.5, 0.85]) {
      const shut = findParts(gate(0.89, lengthM), 0.9).parts;
      expect(shut).toHaveLength(2);
      for (const part of shut) expect(areaM2(part)).toBeGreaterThan(99);
      expect(findParts(gate(0.905, lengthM), 0.9).parts).toHaveLength(1);
    }
  });

  it("take a round island into the edge where the gap behind it is a little too narrow", () => {
    const hole = discRing([10, 3.3], 2.45).slice();
    const clockwise = Float64Array.from(
      Array.from({ length: hole.length / 2 }, (_, i) => [
        hole[hole.length - 2 - 2 * i]!,
        hole[hole.length - 1 - 2 * i]!,
      ]).flat(),
    );
    const lawn: AreaM = { shell: box(0, 0, 20, 12).shell, holes: [clockwise] };
    const joined = findParts([lawn], 0.9).parts;
    expect(joined.map((part) => part.holes.length)).toEqual([0]);
    expect(findParts([lawn], 0.84).parts.map((part) => part.holes.length)).toEqual([1]);
  });

  it("cut a sharp tip where it becomes too narrow and keep a right angle", () => {
    const wedge: AreaM = { shell: Float64Array.of(0, 0, 30, 0, 0, 8), holes: [] };
    const { parts } = findParts([wedge], 0.9);
    expect(parts).toHaveLength(1);
    const kept = parts[0]!.shell;
    expect(ringContains(kept, 0.01, 0.01)).toBe(true);
    expect(ringContains(kept, 29, 0.05)).toBe(false);
  });
});

describe("firm things", () => {
  const region = [box(0.3, 0.3, 19.7, 9.7)];
  const tree = (name: string, e: number, n: number): Thing =>
    thingOf(name, disc(e, n, 0.2), { role: "tree", contact: "firm", edgeKind: "wall" });

  it("stand free where the machine passes between them and the wire", () => {
    const { joined, free } = joinFirmThings([tree("middle", 10, 5)], region, profile);
    expect([joined.length, free.length]).toEqual([0, 1]);
  });

  it("join what is shut out where it does not, and bring their neighbours", () => {
    const row = [tree("edge", 10, 1), tree("next", 10, 2.2), tree("far", 10, 5)];
    const { joined, free } = joinFirmThings(row, region, profile);
    expect(joined.map((t) => t.name)).toEqual(["edge", "next"]);
    expect(free.map((t) => t.name)).toEqual(["far"]);
  });
});

describe("the whole plan", () => {
  it("leads a paired run round a tree in its way", () => {
    const lawn = box(0, 0, 40, 12);
    const bed = thingOf("bed", box(18, 5, 22, 7));
    const trees = [3, 9].map((n) =>
      thingOf(`tree ${n}`, disc(20, n, 0.4), { role: "tree", contact: "firm", edgeKind: "wall" }),
    );
    // A tree on each of the shortest ways; wide beds of trees leave no straight way beside them.
    const plan = planned(siteOf([lawn], { things: [bed, ...trees] }));
    const runs = plan.loops[0]!.pairedRuns;
    expect(runs).toHaveLength(1);
    for (const tree of trees) {
      const line = runs[0]!.line;
      for (let i = 0; i + 3 < line.length; i += 2) {
        for (let k = 0; k <= 20; k++) {
          const e = line[i]! + ((line[i + 2]! - line[i]!) * k) / 20;
          const n = line[i + 1]! + ((line[i + 3]! - line[i + 1]!) * k) / 20;
          expect(ringContains(tree.areas[0]!.shell as RingM, e, n)).toBe(false);
        }
      }
    }
  });

  it("keeps the full set-in from water that lies beyond the lawn's edge", () => {
    const lawn = box(0, 0, 20, 10);
    const pond = thingOf("pond", box(5, -4, 15, -0.4), { role: "water", edgeKind: "water" });
    const { wire } = planned(siteOf([lawn], { things: [pond] })).loops[0]!;
    for (let i = 0; i < wire.length; i += 2) {
      const [e, n] = [wire[i]!, wire[i + 1]!];
      const de = Math.max(5 - e, 0, e - 15);
      const dn = Math.max(n + 0.4, 0);
      expect(Math.hypot(de, dn)).toBeGreaterThanOrEqual(profile.setinM.water - 0.001);
    }
  });

  it("crosses a flush path and counts it as not mown", () => {
    const lawn = box(0, 0, 20, 10);
    const path = thingOf("path", box(9, -1, 10, 11), {
      role: "paving",
      contact: "flush",
      edgeKind: "flush",
    });
    const plan = planned(siteOf([lawn], { things: [path] }));
    expect(plan.loops).toHaveLength(1);
    expect(plan.groundM2).toBeCloseTo(190, 6);
    expect(plan.mown[0]!.areaM2).toBeCloseTo(19.4 * 9.4 - 9.4, 3);
  });

  it("gives a station to each of two lawns and says which one is not used", () => {
    const lawns = [box(0, 0, 10, 10), box(20, 0, 30, 10)];
    const station = (name: string, atM: PointM): PlacedPoint => ({ name, atM, source: {} });
    const plan = planned(
      siteOf(lawns, {
        stations: [
          station("west", [5, 0.3]),
          station("east", [25, 0.3]),
          station("spare", [25, 9]),
        ],
      }),
    );
    const at = plan.loops.map((loop) => loop.station.atM[0]).sort((a, b) => a - b);
    expect(at[0]).toBeCloseTo(5, 6);
    expect(at[1]).toBeCloseTo(25, 6);
    expect(plan.findings.map((f) => f.code)).toContain("STATION_UNUSED");
  });

  it("refuses a lawn with no room for a wire, and says so", () => {
    const outcome = planSite(siteOf([box(0, 0, 30, 0.5)]), profile);
    expect(outcome).toMatchObject({ ok: false, problem: { code: "NO_ROOM_FOR_WIRE" } });
  });
});

describe("small parts", () => {
  it("name loops A to Z, then AA", () => {
    expect([0, 25, 26, 51, 52, 701, 702].map(loopName)).toEqual([
      ...["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"],
    ]);
  });

  it("share stations out by nearness", () => {
    const parts = [box(0, 0, 10, 10), box(20, 0, 30, 10)];
    const { wanted, unused } = shareStations(parts, [
      { name: "b", atM: [21, -1], source: {} },
      { name: "a", atM: [21, -3], source: {} },
    ]);
    expect(wanted).toEqual([undefined, [21, -1]]);
    expect(unused.map((s) => s.name)).toEqual(["a"]);
  });

  it("weigh both sides of every bridge, and nothing for edges of a cycle", () => {
    // 0–1–2–0 is a cycle; 2–3 and 3–4 are bridges.
    const sides = bridgeSides(
      [10, 20, 30, 4, 5],
      [
        [0, 1],
        [1, 2],
        [2, 0],
        [2, 3],
        [3, 4],
      ],
    );
    expect(sides).toEqual([0, 0, 0, 9, 5]);
  });
});
