import { area as turfArea, polygon as turfPolygon } from "@turf/turf";
import type { Geometry, Position } from "geojson";
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { intersection } from "../../src/geometry/overlay.ts";
import { areaM2, signedAreaM2, totalAreaM2 } from "../../src/geometry/rings.ts";
import type { Site } from "../../src/model/site.ts";
import {
  box,
  build,
  codes,
  grid,
  isValidArea,
  layer,
  line,
  point,
  polygon,
  rect,
  ring,
  siteOf,
} from "./builder.ts";

beforeAll(() => loadEngine());

const lawn = (geometry: Geometry) => siteOf([geometry, { role: "lawn" }]);
const lawnM2 = (site: Site) => totalAreaM2(site.lawns.map((one) => one.area));

/** Ground in the sense of the planner: lawn less things, from areas that may overlap. */
function groundM2(site: Site): number {
  const lawns = site.lawns.map((one) => one.area);
  const things = site.things.flatMap((thing) => thing.areas);
  return totalAreaM2(lawns) - totalAreaM2(intersection(lawns, things));
}

describe("a sound outline", () => {
  it("comes back vertex for vertex, without findings", () => {
    const corners: Position[] = [
      [0, 0],
      [20.0000001, 0],
      [20, 10],
      [10, 10.0020001],
      [0, 10],
    ];
    const { site, findings } = lawn(polygon(ring(...corners)));
    expect([...site.lawns[0]!.area.shell]).toEqual(corners.flat());
    expect(findings).toEqual([]);
  });

  it("is turned anticlockwise where it was not; GeoJSON gets one finding with the count", () => {
    const clockwise = polygon(box(0, 0, 10).reverse());
    const outcome = build([
      layer("Lawns", [[clockwise], [polygon(box(20, 0, 10).reverse())]], "geojson"),
    ]);
    if (!outcome.ok) throw new Error("no site");
    for (const one of outcome.value.lawns) expect(signedAreaM2(one.area.shell)).toBe(100);
    expect(codes(outcome.findings)).toEqual(["RING_WINDING"]);
    expect(outcome.findings[0]!.message).toMatch(/^2 outlines/);
  });
});

describe("points and spikes", () => {
  it("closes an outline that does not end where it begins", () => {
    const open = polygon([
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ]);
    const { site, findings } = lawn(open);
    expect(lawnM2(site)).toBe(100);
    expect(codes(findings)).toEqual(["RING_NOT_CLOSED"]);
    expect(findings[0]!.message).toContain("10.000 m short");
  });

  it("takes repeated points once and merges those nearer than a millimetre", () => {
    const doubled = ring([0, 0], [10, 0], [10, 0], [10, 0], [10, 10], [10, 10.0004], [0, 10]);
    const { site, findings } = lawn(polygon(doubled));
    expect(site.lawns[0]!.area.shell.length / 2).toBe(4);
    expect(lawnM2(site)).toBeCloseTo(100, 6);
    expect(codes(findings)).toEqual(["DUPLICATE_POINTS"]);
    expect(findings[0]!.message).toMatch(/^2 points/);
    expect(findings[0]!.atM).toEqual([10, 0]);
  });

  it("takes off spikes of one or several points, also at the seam", () => {
    const outward = ring([0, 0], [10, 0], [10, 5], [14, 5], [10, 5.0005], [10, 10], [0, 10]);
    const a = lawn(polygon(outward));
    expect(lawnM2(a.site)).toBeCloseTo(100, 2);
    expect(codes(a.findings)).toEqual(["RING_SPIKE"]);
    expect(a.findings[0]!.atM).toEqual([14, 5]);
    expect(a.findings[0]!.message).toContain("4.000 m");
    const inward = ring(
      [0, 0],
      [10, 0],
      [10, 5],
      [6, 5],
      [3, 8],
      [6, 5],
      [10, 5],
      [10, 10],
      [0, 10],
    );
    const b = lawn(polygon(inward));
    expect(lawnM2(b.site)).toBe(100);
    expect(codes(b.findings)).toEqual(["RING_SPIKE", "RING_SPIKE"]);
    const seam = ring([-3, 0], [10, 0], [10, 10], [0, 10], [0, 0]);
    const c = lawn(polygon(seam));
    expect(lawnM2(c.site)).toBe(100);
    expect(codes(c.findings)).toEqual(["RING_SPIKE"]);
  });

  it("keeps a narrow strip that is wider than a millimetre", () => {
    const strip = ring(
      [0, 0],
      [10, 0],
      [10, 4.99],
      [14, 4.99],
      [14, 5.01],
      [10, 5.01],
      [10, 10],
      [0, 10],
    );
    const { site, findings } = lawn(polygon(strip));
    expect(lawnM2(site)).toBeCloseTo(100.08, 9);
    expect(findings).toEqual([]);
  });

  it("says where: metres and degrees of every repair agree", () => {
    const { findings } = lawn(
      polygon(ring([0, 0], [10, 0], [10, 5], [14, 5], [10, 5], [10, 10], [0, 10])),
    );
    const [finding] = findings;
    expect(finding!.at).toEqual(grid.inverse([14, 5]));
    expect(finding).toMatchObject({ file: "survey.test", layer: "survey", feature: "#1" });
  });
});

describe("outlines that cross themselves", () => {
  it("a bow-tie keeps both wings", () => {
    const { site, findings } = lawn(polygon(ring([0, 0], [10, 10], [10, 0], [0, 10])));
    expect(site.lawns).toHaveLength(2);
    // Two triangles of base 10 m and height 5 m.
    expect(site.lawns.map((one) => areaM2(one.area))).toEqual([25, 25]);
    expect(codes(findings)).toEqual(["RING_SELF_CROSSES"]);
    expect(findings[0]!.atM).toEqual([5, 5]);
    expect(findings[0]!.message).toContain("0.0000 m², after the repair 50.00 m²");
  });

  it("a pentagram is its five points: the middle is wound round twice", () => {
    const corner = (k: number): Position => [
      10 * Math.sin((2 * Math.PI * k) / 5),
      10 * Math.cos((2 * Math.PI * k) / 5),
    ];
    const { site } = lawn(polygon(ring(corner(0), corner(2), corner(4), corner(1), corner(3))));
    // {5/2} in a circle of radius R: with the golden ratio f the inner pentagon's radius is R/f²,
    // a point is a triangle of base 2(R/f²) sin 36° and height R − (R/f²) cos 36°.
    const inner = 10 / ((1 + Math.sqrt(5)) / 2) ** 2;
    const rad = Math.PI / 5;
    const tip = inner * Math.sin(rad) * (10 - inner * Math.cos(rad));
    expect(lawnM2(site)).toBeCloseTo(5 * tip, 3);
    for (const one of site.lawns) expect(isValidArea(one.area)).toBe(true);
  });

  it("a hole tied to its outline by a cut is a hole", () => {
    const keyhole = ring(
      [0, 0],
      [5, 0],
      [5, 3],
      [3, 3],
      [3, 7],
      [7, 7],
      [7, 3],
      [5, 3],
      [5, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    );
    const { site, findings } = lawn(polygon(keyhole));
    expect(lawnM2(site)).toBeCloseTo(100, 6);
    expect(site.things).toHaveLength(1);
    expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(16, 4);
    expect(codes(findings)).toEqual(["HOLES_TAKEN_AS_BEDS", "RING_SELF_TOUCHES"]);
  });

  it("an outline that touches itself at a corner becomes two valid ones", () => {
    const eight = ring([0, 0], [5, 0], [5, 5], [10, 5], [10, 10], [5, 10], [5, 5], [0, 5]);
    const { site } = lawn(polygon(eight));
    expect(lawnM2(site)).toBe(50);
    for (const one of site.lawns) expect(isValidArea(one.area)).toBe(true);
  });
});

describe("what encloses nothing", () => {
  it("is left out with a finding, and the rest stays", () => {
    const { site, findings } = siteOf(
      [rect(0, 0, 10), { role: "lawn" }],
      [polygon(ring([20, 0], [30, 0])), { role: "lawn" }],
      [polygon(ring([20, 5], [25, 5], [30, 5])), { role: "lawn" }],
      [polygon(ring([20, 5], [20.005, 5], [20.005, 5.005])), { role: "lawn" }],
    );
    expect(lawnM2(site)).toBe(100);
    expect(codes(findings)).toEqual(
      expect.arrayContaining(["RING_TOO_FEW_POINTS", "RING_NO_AREA"]),
    );
    expect(new Set(findings.map((one) => one.feature))).toEqual(new Set(["#2", "#3", "#4"]));
  });

  it("a feature with a coordinate that is no number is left out whole", () => {
    const { site, findings } = siteOf(
      [rect(0, 0, 10), { role: "lawn" }],
      [polygon(ring([2, 2], [Number.NaN, 3], [3, 4])), { role: "bed" }],
      [null],
    );
    expect(site.things).toEqual([]);
    expect(codes(findings)).toEqual(["COORDINATE_NOT_A_NUMBER", "NO_GEOMETRY"]);
  });
});

describe("holes", () => {
  it("that reach over the outline take out what they cover and add nothing", () => {
    const { site, findings } = lawn(polygon(box(0, 0, 10), box(8, 4, 4, 2)));
    expect(lawnM2(site)).toBeCloseTo(96, 6);
    expect(site.things).toHaveLength(1);
    expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(4, 6);
    expect(groundM2(site)).toBeCloseTo(96, 4);
    expect(codes(findings)).toEqual(["HOLE_CROSSES_OUTLINE"]);
    expect(findings[0]!.message).toContain("8.00 m²");
  });

  it("outside the outline are left out", () => {
    const { site, findings } = lawn(polygon(box(0, 0, 10), box(20, 4, 2)));
    expect(lawnM2(site)).toBeCloseTo(100, 6);
    expect(site.things).toEqual([]);
    expect(codes(findings)).toEqual(["HOLE_OUTSIDE"]);
  });

  it("that overlap are one", () => {
    const { site, findings } = lawn(polygon(box(0, 0, 20), box(5, 5, 4), box(7, 7, 4)));
    expect(groundM2(site)).toBeCloseTo(400 - 28, 4);
    expect(site.things).toHaveLength(1);
    expect(codes(findings)).toEqual(["HOLES_OVERLAP", "HOLES_TAKEN_AS_BEDS"]);
    expect(findings.find((one) => one.code === "HOLES_OVERLAP")!.message).toContain("4.00 m²");
  });

  it("one in another, and one along the edge, leave the right ground", () => {
    const inner = lawn(polygon(box(0, 0, 20), box(5, 5, 8), box(6, 6, 2)));
    expect(groundM2(inner.site)).toBeCloseTo(400 - 64, 4);
    const along = lawn(polygon(box(0, 0, 20), box(0, 5, 4)));
    expect(groundM2(along.site)).toBeCloseTo(400 - 16, 4);
    expect(codes(along.findings)).toEqual(["HOLE_CROSSES_OUTLINE"]);
    const filled = siteOf(
      [polygon(box(0, 0, 20), box(16, 4, 8)), { role: "lawn" }],
      [rect(15, 2, 10), { role: "lawn" }],
    );
    expect(groundM2(filled.site)).toBeCloseTo(400 + 50, 4);
    const corner = lawn(polygon(box(0, 0, 20), ring([0, 10], [4, 8], [4, 12])));
    expect(groundM2(corner.site)).toBeCloseTo(400 - 8, 4);
  });
});

describe("lawns that overlap or meet", () => {
  const two = (a: Geometry, b: Geometry) => siteOf([a, { role: "lawn" }], [b, { role: "lawn" }]);

  it("overlapping ones are united, with the overlap told", () => {
    const { site, findings } = two(rect(0, 0, 20), rect(15, 5, 20));
    expect(site.lawns).toHaveLength(1);
    expect(lawnM2(site)).toBeCloseTo(400 + 400 - 15 * 5, 4);
    expect(codes(findings)).toEqual(["LAWNS_OVERLAP"]);
    expect(findings[0]!.message).toContain("75.00 m²");
  });

  it("one in another, and crossing ones, are united", () => {
    expect(lawnM2(two(rect(0, 0, 20), rect(5, 5, 5)).site)).toBeCloseTo(400, 6);
    expect(lawnM2(two(rect(0, 8, 20, 4), rect(8, 0, 4, 20)).site)).toBeCloseTo(144, 4);
  });

  it.each([0, 0.0000001, 0.003, 0.019])("a gap of %d m along an edge is closed", (gapM) => {
    const { site, findings } = two(rect(0, 0, 20, 10), rect(20 + gapM, 0, 10));
    expect(site.lawns).toHaveLength(1);
    expect(Math.abs(lawnM2(site) - (300 + 10 * gapM))).toBeLessThan(0.0035);
    expect(site.lawns[0]!.area.holes).toEqual([]);
    expect(isValidArea(site.lawns[0]!.area)).toBe(true);
    expect(codes(findings)).toEqual(["LAWNS_JOINED"]);
    // Nowhere more than 0.1 mm outside the two and the gap between them.
    const { shell } = site.lawns[0]!.area;
    for (let i = 0; i < shell.length; i += 2) {
      expect(shell[i]!).toBeGreaterThan(-0.0001);
      expect(shell[i]!).toBeLessThan(30.0001 + gapM);
      expect(shell[i + 1]!).toBeGreaterThan(-0.0001);
      expect(shell[i + 1]!).toBeLessThan(10.0001);
    }
  });

  it("changes nothing away from the seam: a notch of 1 cm stays", () => {
    const notched = ring(
      [0, 0],
      [20, 0],
      [20, 10],
      [5.01, 10],
      [5.01, 6],
      [5, 6],
      [5, 10],
      [0, 10],
    );
    const { site } = two(polygon(notched), rect(20.01, 0, 10));
    expect(site.lawns).toHaveLength(1);
    expect(Math.abs(lawnM2(site) - (200 - 0.04 + 100 + 0.1))).toBeLessThan(0.003);
  });

  it("a gap of 3 cm stays, and so does a touch of corners", () => {
    const apart = two(rect(0, 0, 20, 10), rect(20.03, 0, 10));
    expect(apart.site.lawns).toHaveLength(2);
    expect(apart.findings).toEqual([]);
    const corners = two(rect(0, 0, 10), rect(10, 10, 10));
    expect(corners.site.lawns).toHaveLength(2);
    expect(corners.findings).toEqual([]);
  });

  it("parts of one feature are united like those of two", () => {
    const multi: Geometry = {
      type: "MultiPolygon",
      coordinates: [[box(0, 0, 10)], [box(10, 0, 10)], [box(40, 0, 10)]],
    };
    const { site } = lawn(multi);
    expect(site.lawns.map((one) => Math.round(areaM2(one.area))).sort()).toEqual([100, 200]);
  });

  it("a lawn drawn twice is there once", () => {
    const { site, findings } = two(rect(0, 0, 20), polygon(box(0, 0, 20).reverse()));
    expect(lawnM2(site)).toBe(400);
    expect(codes(findings)).toEqual(["DUPLICATE_FEATURES"]);
  });
});

describe("no lawn at all", () => {
  it("names the layers, what was found in them, and what to pass", () => {
    const outcome = build([layer("Planting", [[rect(0, 0, 5)], [rect(9, 0, 5)]])]);
    if (outcome.ok) throw new Error("a site without lawn");
    expect(outcome.problem).toMatchObject({ code: "NO_LAWN", kind: "input" });
    expect(outcome.problem.message).toContain('"Planting" (2 features: 2 bed)');
    expect(outcome.problem.remedy).toContain('--role "Planting=lawn"');
    expect(build([layer("Planting", [[rect(0, 0, 5)]])], { planting: "lawn" }).ok).toBe(true);
  });

  it("says so of points alone, of nothing, and of lawns without area", () => {
    const points = build([layer("survey", [[point(0, 0)], [point(1, 0), { role: "lawn" }]])]);
    expect(!points.ok && points.problem.message).toContain("only points");
    expect(build([]).ok).toBe(false);
    const flat = build([layer("Lawns", [[polygon(ring([0, 0], [1, 0], [2, 0]))]])]);
    expect(!flat.ok && flat.problem.message).toContain("none encloses an area");
    expect(codes(flat.findings).length).toBeGreaterThan(0);
    expect(build([layer("survey", [[line([0, 0], [5, 5])]])]).ok).toBe(false);
  });
});

describe("areas against another library", () => {
  // @turf/turf measures on a sphere of radius 6371008.8 m, the grid on the WGS 84 ellipsoid: at 50°
  // north they differ by less than 0.5 %.
  it("a repaired outline has the area that turf finds for its true shape", () => {
    const bow = lawn(polygon(ring([0, 0], [100, 100], [100, 0], [0, 100])));
    const wing = [[0, 0], [50, 50], [0, 100], [0, 0]] as [number, number][]; // biome-ignore format: one ring
    const degrees = wing.map((corner) => [...grid.inverse(corner)]);
    const ours = totalAreaM2(bow.site.lawns.map((one) => one.area));
    expect(Math.abs(ours / (2 * turfArea(turfPolygon([degrees]))) - 1)).toBeLessThan(0.005);
  });
});
