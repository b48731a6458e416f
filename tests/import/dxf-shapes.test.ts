/** Entities of drawings as points (DXF reference): what is sound, what is left out. */
import { describe, expect, it } from "vitest";
import { hatchRings } from "../../src/import/dxf/hatch.ts";
import type { Entity } from "../../src/import/dxf/parse-drawing.ts";
import { pieceOf } from "../../src/import/dxf/pieces.ts";
import type { Group } from "../../src/import/dxf/raw-entity.ts";

const piece = (entity: Entity) => pieceOf(entity, 0.001);
const flat = (points: readonly (readonly number[])[] = []) =>
  points.map((point) => point.map((x) => Math.round(1e9 * x) / 1e9 + 0));
const first = (entity: Entity) => flat(piece(entity)?.parts[0]);
const at = (x: number, y: number, z?: number) => (z === undefined ? { x, y } : { x, y, z });

describe("entities without what they need", () => {
  it.each([
    [{ type: "POINT" }],
    [{ type: "ARC", radius: 2 }],
    [{ type: "SOLID", points: [at(0, 0), at(1, 0)] }],
    [{ type: "SOLID" }],
    [{ type: "SPLINE" }],
    [{ type: "HATCH" }],
    [{ type: "MTEXT" }],
    [{ type: "POLYLINE", isPolyfaceMesh: true, vertices: [at(0, 0)] }],
    [{ type: "POLYLINE", is3dPolygonMesh: true, vertices: [at(0, 0)] }],
  ])("%j has no shape", (entity) => {
    expect(piece(entity)).toBeUndefined();
  });

  it.each(["LINE", "LWPOLYLINE", "POLYLINE"])("%s without points is an empty line", (type) => {
    expect(piece({ type })?.parts[0]).toEqual([]);
  });
});

describe("points, lines and solids", () => {
  it("have heights where they are given", () => {
    expect(first({ type: "POINT", position: at(1, 2, 3) })).toEqual([[1, 2, 3]]);
    expect(first({ type: "LINE", vertices: [at(0, 0), at(4, 3, 1)] })).toEqual([
      [0, 0, 0],
      [4, 3, 1],
    ]);
  });

  it("a solid of three corners is a triangle; of four, the last two are crosswise", () => {
    const points = [at(0, 0), at(2, 0), at(0, 1), at(2, 1)];
    expect(first({ type: "SOLID", points })).toEqual([
      [0, 0, 0],
      [2, 0, 0],
      [2, 1, 0],
      [0, 1, 0],
      [0, 0, 0],
    ]);
    expect(first({ type: "SOLID", points: points.slice(0, 3) })).toHaveLength(4);
  });

  it("that face down are mirrored, as the arbitrary axis rule has it", () => {
    const vertices = [at(1, 2), at(3, 2)];
    const down = { extrusionDirectionX: 0, extrusionDirectionY: 0, extrusionDirectionZ: -1 };
    expect(first({ type: "POLYLINE", vertices, ...down })).toEqual([
      [-1, 2, 0],
      [-3, 2, 0],
    ]);
    expect(first({ type: "POLYLINE", vertices, extrusionDirection: at(0, 0, -1) })).toEqual([
      [-1, 2, 0],
      [-3, 2, 0],
    ]);
  });

  it("a line in space does not bulge, one on a plane does", () => {
    // A bulge of 1 is half a circle.
    const vertices = [{ ...at(0, 0), bulge: 1 }, at(2, 0)];
    const bulged = first({ type: "POLYLINE", vertices });
    expect(bulged.length).toBeGreaterThan(10);
    expect(Math.min(...bulged.map(([, y]) => y!))).toBeCloseTo(-1, 2);
    expect(first({ type: "POLYLINE", vertices, is3dPolyline: true })).toHaveLength(2);
    const frame = [{ ...at(9, 9), splineControlPoint: true }, ...vertices];
    expect(first({ type: "POLYLINE", vertices: frame, is3dPolyline: true })).toHaveLength(2);
  });
});

describe("arcs", () => {
  it("without angles go all round, without radius stay in their middle", () => {
    const whole = first({ type: "ARC", center: at(1, 1), radius: 2 });
    expect(whole[0]).toEqual([3, 1, 0]);
    for (const [x, y] of whole) expect(Math.hypot(x! - 1, y! - 1)).toBeCloseTo(2, 8);
    expect(first({ type: "ARC", center: at(1, 1) }).every(([x, y]) => x === 1 && y === 1)).toBe(
      true,
    );
    const quarter = first({
      type: "ARC",
      center: at(0, 0),
      radius: 1,
      startAngle: 0,
      endAngle: Math.PI / 2,
    });
    expect(quarter.at(-1)).toEqual([0, 1, 0]);
  });
});

const groups = (...pairs: (readonly [number, number])[]): readonly Group[] => pairs;

describe("splines", () => {
  it("without sound knots go through their fit points, back to the first where closed", () => {
    const fit = groups([11, 0], [21, 0], [11, 2], [21, 1], [31, 3], [11, 4], [21, 0]);
    expect(first({ type: "SPLINE", groups: fit })).toEqual([
      [0, 0, 0],
      [2, 1, 3],
      [4, 0, 0],
    ]);
    expect(first({ type: "SPLINE", groups: [[70, 1], ...fit] })).toHaveLength(4);
    expect(piece({ type: "SPLINE", groups: groups([11, 0], [21, 0]) })).toBeUndefined();
  });

  it("of degree 1 are their controls", () => {
    const line = groups(
      [71, 1],
      ...[0, 0, 1, 2, 2].map((knot) => [40, knot] as const),
      ...[
        [10, 0],
        [20, 0],
        [10, 3],
        [20, 4],
        [10, 6],
        [20, 0],
      ].map(([code, value]) => [code!, value!] as const),
    );
    const points = first({ type: "SPLINE", groups: line });
    expect(points[0]).toEqual([0, 0, 0]);
    expect(points.at(-1)).toEqual([6, 0, 0]);
    expect(points).toContainEqual([3, 4, 0]);
  });
});

describe("hatches", () => {
  const rings = (...pairs: (readonly [number, number])[]) => hatchRings(pairs, 0.001);
  const line = (ax: number, ay: number, bx: number, by: number) =>
    [
      [72, 1],
      [10, ax],
      [20, ay],
      [11, bx],
      [21, by],
    ] as const;

  it("cut short have no rings", () => {
    expect(rings()).toEqual({ rings: [], curved: false });
    expect(rings([30, 0])).toEqual({ rings: [], curved: false });
    expect(rings([30, 0], [91, 1])).toEqual({ rings: [], curved: false });
    // Two corners are no ring.
    expect(
      rings(
        [30, 0],
        [91, 1],
        [92, 2],
        [72, 0],
        [73, 1],
        [93, 2],
        [10, 0],
        [20, 0],
        [10, 1],
        [20, 1],
      ).rings,
    ).toEqual([]);
  });

  it("chains of lines are put end to end, turned round where they are drawn backwards", () => {
    const found = rings(
      [30, 5],
      [91, 1],
      [92, 1],
      [93, 3],
      ...line(0, 0, 4, 0),
      ...line(4, 3, 4, 0),
      ...line(4, 3, 0, 0),
    );
    expect(flat(found.rings[0])).toEqual([
      [0, 0, 5],
      [4, 0, 5],
      [4, 3, 5],
      [0, 0, 5],
    ]);
    expect(found.curved).toBe(false);
    // A gap between two edges keeps both ends.
    const gap = rings(
      [30, 0],
      [91, 1],
      [92, 1],
      [93, 2],
      ...line(0, 0, 4, 0),
      ...line(4, 0.1, 4, 3),
    );
    expect(gap.rings[0]).toHaveLength(4);
  });

  it("spline edges: sound ones are followed, others are their controls; fit points are passed", () => {
    const spline = (knots: readonly number[], weights: boolean) => [
      [72, 4] as const,
      [94, 1] as const,
      [73, 0] as const,
      [74, 0] as const,
      [95, knots.length] as const,
      [96, 3] as const,
      ...knots.map((knot) => [40, knot] as const),
      ...[
        [0, 0],
        [4, 0],
        [4, 3],
      ].flatMap(([x, y]) => [
        [10, x!] as const,
        [20, y!] as const,
        ...(weights ? [[42, 1] as const] : []),
      ]),
    ];
    const head = [[30, 0] as const, [91, 1] as const, [92, 1] as const];
    const back = line(4, 3, 0, 0);
    const fit = [
      [97, 2] as const,
      [11, 0] as const,
      [21, 0] as const,
      [11, 4] as const,
      [21, 3] as const,
    ];
    for (const [knots, weights] of [
      [[0, 0, 1, 2, 2], false],
      [[0, 0, 1, 2, 2], true],
      [[0], false],
    ] as const) {
      const found = rings(...head, [93, 2], ...spline(knots, weights), ...fit, ...back);
      expect(found.curved).toBe(true);
      expect(flat(found.rings[0])).toContainEqual([4, 0, 0]);
      expect(flat(found.rings[0]).at(-1)).toEqual([0, 0, 0]);
    }
    // The count of source objects has the same code: it ends the path.
    const alone = rings(...head, [93, 1], ...spline([0, 0, 1, 2, 2], false), [97, 1], [330, 7]);
    expect(alone.rings[0]!.length).toBeGreaterThanOrEqual(3);
    // An edge of a kind that nobody knows has no points.
    expect(rings(...head, [93, 1], [72, 9]).rings).toEqual([]);
  });
});
