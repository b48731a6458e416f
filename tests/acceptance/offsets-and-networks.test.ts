/** The geometry door against formulas of the textbooks and an independent engine (jsts). */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { grow, shrink } from "../../src/geometry/offset.ts";
import { spanningNetwork } from "../../src/geometry/spanning-network.ts";
import { seeded } from "../../src/physics/coverage/seeded.ts";
import { planeAt, type Xy } from "../support/plane.ts";
import { judgeWritten, planDrawn } from "../support/planning.ts";
import { blob } from "../support/random-site.ts";
import { distance, lineLength, ringArea } from "../support/segments.ts";
import { disc, Pen, rectangle } from "../support/sites.ts";
import { areaOf, bufferOf, polygonShape } from "../support/topology.ts";

beforeAll(() => loadEngine());

const flat = (ring: readonly Xy[]): Float64Array => Float64Array.from(ring.flat());
const pairs = (ring: Float64Array): Xy[] =>
  Array.from({ length: ring.length / 2 }, (_, i): Xy => [ring[2 * i]!, ring[2 * i + 1]!]);
const perimeter = (ring: readonly Xy[]): number => lineLength([...ring, ring[0]!]);
const closed = (ring: readonly Xy[]): Xy[] => [...ring, ring[0]!];

const CONVEX: readonly (readonly [string, Xy[]])[] = [
  ["square", rectangle(10, 10)],
  [
    "triangle",
    [
      [0, 0],
      [12, 0],
      [3, 7],
    ],
  ],
  [
    "needle",
    [
      [0, 0],
      [30, 0.5],
      [15, 2],
    ],
  ],
  ["disc", disc([0, 0], 5, 240)],
  ["hexagon", disc([1, 2], 8, 6)],
];

describe("outer parallel body of a convex body K at distance d", () => {
  // Steiner: area A + P d + π d², perimeter P + 2 π d (Santaló 1976, ch. 1; from memory).
  it.each(CONVEX)("%s", (_, ring) => {
    for (const d of [0.1, 0.3, 1, 2.5]) {
      const grown = grow([{ shell: flat(ring), holes: [] }], d, "round");
      expect(grown).toHaveLength(1);
      const out = pairs(grown[0]!.shell);
      const area = Math.abs(ringArea(ring)) + perimeter(ring) * d + Math.PI * d * d;
      const length = perimeter(ring) + 2 * Math.PI * d;
      // Arcs are drawn by chords at most 0.5 mm inside them: along 2 π d that is the area lost.
      const lost = 0.0005 * 2 * Math.PI * d;
      expect(ringArea(out)).toBeLessThan(area + 1e-3);
      expect(ringArea(out)).toBeGreaterThan(area - lost - 1e-3);
      // A chord of sagitta s on radius d is shorter than its arc by a share of (4 s)/(3 d) at most.
      expect(perimeter(out)).toBeLessThan(length + 1e-3);
      expect(perimeter(out)).toBeGreaterThan(
        length - 2 * Math.PI * d * ((4 * 0.0005) / (3 * d)) - 1e-3,
      );
    }
  });
});

describe("inner parallel body", () => {
  it("of an a × b rectangle is (a − 2d)(b − 2d)", () => {
    for (const [a, b, d] of [
      [40, 25, 0.3],
      [10, 2, 0.9],
      [3, 3, 1.4],
    ] as const) {
      for (const join of ["mitre", "round"] as const) {
        const [left] = shrink([{ shell: flat(rectangle(a, b)), holes: [] }], d, join);
        expect(ringArea(pairs(left!.shell))).toBeCloseTo((a - 2 * d) * (b - 2 * d), 3);
      }
    }
    expect(shrink([{ shell: flat(rectangle(10, 2)), holes: [] }], 1.001, "mitre")).toEqual([]);
  });

  it("of an annulus is an annulus", () => {
    const hole = flat(disc([0, 0], 4, 720).reverse());
    const [left] = shrink([{ shell: flat(disc([0, 0], 9, 720)), holes: [hole] }], 0.5, "round");
    const area = ringArea(pairs(left!.shell)) + ringArea(pairs(left!.holes[0]!));
    expect(area).toBeCloseTo(Math.PI * (8.5 ** 2 - 4.5 ** 2), 1);
  });

  it("of random outlines is the buffer that jsts makes", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const ring = blob(seeded(seed), [0, 0], 10, 80, 0.5);
      for (const d of [-1, -0.3, 0.3, 1]) {
        const area = { shell: flat(ring), holes: [] };
        const ours = d < 0 ? shrink([area], -d, "round") : grow([area], d, "round");
        const size = ours.reduce(
          (sum, one) => sum + [one.shell, ...one.holes].reduce((s, r) => s + ringArea(pairs(r)), 0),
          0,
        );
        const theirs = areaOf(bufferOf(polygonShape([closed(ring)]), d, 128));
        expect(Math.abs(size - theirs)).toBeLessThan(0.0005 * perimeter(ring) + 0.002);
      }
    }
  });
});

describe("loop round a disc", () => {
  // 2 π (r + d). The chords lie outside the circle of radius R = r + d and may stand off it by the
  // profile's wander of w = 0.15 m: the wire is at least the circle long, at most the circle of R + w.
  // A chord of which both corners stand off by w spans 2 acos(R / (R + w)) at most.
  it.each([0.3, 0.5, 1, 2, 4])("of radius %f m", async (r) => {
    const pen = new Pen({ turnDeg: 11 });
    const centre = pen.at([15, 12]);
    const drawn = pen.lawn(rectangle(30, 24)).bed(disc([15, 12], r, 360)).drawn;
    const written = await planDrawn(drawn);
    expect(judgeWritten(written, drawn.truth, { relaxWithinM: 0 }).breaches).toEqual([]);
    const loop = written.plan.features.find((f) => f.properties?.kind === "exclusion-loop")!;
    const circle = 2 * Math.PI * (r + 0.3);
    const length = Number(loop.properties!.length_m);
    const { coordinates } = loop.geometry as { coordinates: number[][][] };
    const n = coordinates[0]!.length - 1;
    expect(length).toBeGreaterThan(circle * (1 - 1e-4));
    expect(length).toBeLessThan(2 * Math.PI * (r + 0.3 + 0.15));
    // No corner stands off further than that, and no fewer corners than its sagitta allows.
    const plane = planeAt(centre);
    const standing = coordinates[0]!.map((at) => Math.hypot(...plane.toPlane(at)) - r - 0.3);
    expect(Math.max(...standing)).toBeLessThan(0.151);
    const half = Math.acos((r + 0.3) / (r + 0.3 + 0.15));
    expect(n).toBeGreaterThanOrEqual(Math.ceil(Math.PI / half - 1e-6));
  });
});

describe("spanning network", () => {
  const RADIUS = 0.001;
  const tiny = (at: Xy) => flat(disc(at, RADIUS, 24));
  const total = (links: readonly { lengthM: number }[]) =>
    links.reduce((sum, link) => sum + link.lengthM, 0);

  // Spanning trees of the textbooks (Gilbert & Pollak 1968; from memory), less the rings' radii.
  it.each<[string, Xy[], number]>([
    [
      "unit square",
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ],
      3,
    ],
    [
      "unit equilateral triangle",
      [
        [0, 0],
        [1, 0],
        [0.5, Math.sqrt(3) / 2],
      ],
      2,
    ],
    ["centre and corners of a regular pentagon", [[0, 0], ...disc([0, 0], 1, 5)], 5],
    [
      "points on a line",
      [
        [5, 0],
        [0, 0],
        [9, 0],
        [2, 0],
      ],
      9,
    ],
  ])("%s", (_, points, length) => {
    const links = spanningNetwork(points.map(tiny));
    expect(links).toHaveLength(points.length - 1);
    const shortened = length - 2 * RADIUS * links.length;
    expect(total(links)).toBeGreaterThanOrEqual(shortened - 1e-9);
    // Rings of 24 corners come up to 1 − cos(7.5°) of the radius short of their circles.
    expect(total(links)).toBeLessThan(shortened + 2 * links.length * RADIUS * 0.0086 + 1e-9);
  });

  it("on random discs is as short as Prim's tree over all pairs", () => {
    for (let seed = 1; seed <= 12; seed++) {
      const random = seeded(seed);
      const discs: { at: Xy; r: number }[] = [];
      for (let tries = 0; tries < 200 && discs.length < 30; tries++) {
        const one = { at: [50 * random(), 50 * random()] as Xy, r: 0.2 + 2 * random() };
        if (discs.every((d) => distance(d.at, one.at) > d.r + one.r + 0.05)) discs.push(one);
      }
      const rings = discs.map(({ at, r }) => flat(disc(at, r, 72)));
      const links = spanningNetwork(rings);
      const prim = primTotal(
        discs.length,
        (i, j) => distance(discs[i]!.at, discs[j]!.at) - discs[i]!.r - discs[j]!.r,
      );
      expect(links).toHaveLength(discs.length - 1);
      expect(joins(links, discs.length)).toBe(true);
      // Each end may fall short of its circle by the sagitta r (1 − cos 2.5°).
      const slack = links.length * 2 * 2.2 * (1 - Math.cos(Math.PI / 72));
      expect(total(links)).toBeGreaterThanOrEqual(prim - 1e-9);
      expect(total(links)).toBeLessThanOrEqual(prim + slack);
    }
  });

  /** Prim 1957, over the full matrix. */
  function primTotal(count: number, weight: (i: number, j: number) => number): number {
    const best = Array.from({ length: count }, (_, i) => (i === 0 ? 0 : Infinity));
    const left = new Set(best.keys());
    let sum = 0;
    while (left.size > 0) {
      const next = [...left].reduce((a, b) => (best[b]! < best[a]! ? b : a));
      left.delete(next);
      sum += best[next]!;
      for (const j of left) best[j] = Math.min(best[j]!, weight(next, j));
    }
    return sum;
  }

  function joins(links: readonly { fromRing: number; toRing: number }[], count: number): boolean {
    const seen = new Set([0]);
    for (let grew = true; grew; ) {
      grew = false;
      for (const { fromRing, toRing } of links) {
        if (seen.has(fromRing) !== seen.has(toRing)) {
          seen.add(fromRing).add(toRing);
          grew = true;
        }
      }
    }
    return seen.size === count;
  }
});
