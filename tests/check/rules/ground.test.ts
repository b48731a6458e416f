/** What the site asks of the wire, told from drawings whose answer is plain. */
import { describe, expect, it } from "vitest";
import { type KindedPiece, Kinds } from "../../../src/check/ground/kinds.ts";
import {
  Covers,
  FIRM,
  FLUSH,
  LAWN,
  NOTHING,
  type Piece,
  piecesOf,
  SOFT,
} from "../../../src/check/ground/pieces.ts";
import type { AreaM } from "../../../src/model/geometry.ts";
import type { EdgeKind } from "../../../src/model/roles.ts";
import type { EdgeLine, Lawn, Site, Thing } from "../../../src/model/site.ts";
import { box, siteOf, thingOf } from "../../plan/shapes.ts";
import { corners, courtOf, loop, MACHINE } from "./scene.ts";

const lawn = box(0, 0, 20, 10);
const edgeLine = (
  kind: EdgeKind,
  line: readonly number[],
  more: Partial<EdgeLine> = {},
): EdgeLine => ({
  kind,
  line: Float64Array.from(line),
  source: {},
  ...more,
});

describe("what lies at a place", () => {
  const site = siteOf([lawn], {
    things: [
      thingOf("bed", box(2, 2, 4, 4)),
      thingOf("path", box(6, -1, 8, 11), { contact: "flush" }),
      thingOf("house", box(10, 2, 12, 4), { contact: "firm" }),
      thingOf("bed on the path", box(6.5, 5, 7.5, 6)),
    ],
  });
  const covers = new Covers(site);

  it.each([
    [1, 1, LAWN],
    [3, 3, SOFT],
    [7, 1, FLUSH],
    [7, -0.5, FLUSH],
    [11, 3, FIRM],
    [7, 5.5, SOFT],
    [-1, 5, NOTHING],
    [40, 5, NOTHING],
  ])("at %d, %d", (e, n, cover) => {
    expect(covers.at(e, n)).toBe(cover);
  });

  it("whether lawn was drawn there, whatever lies on it", () => {
    expect([covers.isOverLawn(7, 1), covers.isOverLawn(7, -0.5), covers.isOverLawn(3, 3)]).toEqual([
      true,
      false,
      true,
    ]);
  });

  it("a hole is none of the area", () => {
    const ring: AreaM = { shell: lawn.shell, holes: [box(5, 5, 6, 6).shell] };
    const holed = new Covers(siteOf([ring]));
    expect([holed.at(5.5, 5.5), holed.at(4.5, 5.5)]).toEqual([NOTHING, LAWN]);
    expect(holed.isOverLawn(5.5, 5.5)).toBe(false);
  });
});

/** Pieces as `west,south-east,north left|right`, to be read. */
const piecesFor = (site: Site) => piecesOf(site, new Covers(site));
const lengthOf = ({ ae, an, be, bn }: Piece) => Math.hypot(be - ae, bn - an);
/** Metres of outline with these two sides, whichever is left. */
const metres = (pieces: readonly Piece[], one: number, other: number) =>
  pieces
    .filter(
      ({ left, right }) => (left === one && right === other) || (left === other && right === one),
    )
    .reduce((sum, piece) => sum + lengthOf(piece), 0);

describe("pieces of outline", () => {
  it("of a lawn alone have lawn on the left", () => {
    const pieces = piecesFor(siteOf([lawn]));
    expect(pieces).toHaveLength(4);
    expect(pieces[1]).toMatchObject({ ae: 20, an: 0, be: 20, bn: 10, left: LAWN, right: NOTHING });
    expect(pieces[0]!.lawn?.name).toBe("lawn 1");
    expect(pieces[0]!.thing).toBeUndefined();
  });

  it("are cut where outlines cross, each with its own sides", () => {
    const pieces = piecesFor(siteOf([lawn], { things: [thingOf("bed", box(5, -2, 8, 3))] }));
    // The lawn's south edge without the 3 m under the bed.
    expect(metres(pieces, LAWN, NOTHING)).toBeCloseTo(57, 9);
    expect(metres(pieces, LAWN, SOFT)).toBeCloseTo(3 + 3 + 3, 9);
    expect(metres(pieces, SOFT, NOTHING)).toBeCloseTo(3 + 2 + 2, 9);
    const west = pieces.filter(({ thing, ae, be }) => thing && ae === 5 && be === 5);
    expect(west.map(({ an, bn }) => [an, bn])).toEqual([
      [3, 0],
      [0, -2],
    ]);
  });

  it("an edge that two lawns share is none", () => {
    const pieces = piecesFor(siteOf([box(0, 0, 10, 10), box(10, 0, 20, 10)]));
    expect(metres(pieces, LAWN, NOTHING)).toBeCloseTo(60, 9);
    const shared = pieces.filter(({ ae, be }) => ae === 10 && be === 10);
    expect(shared.reduce((sum, piece) => sum + lengthOf(piece), 0)).toBeLessThan(0.001);
  });

  it("a seam under a fifth of a millimetre is none, a wider one is", () => {
    const of = (m: number) =>
      metres(piecesFor(siteOf([box(0, 0, 10, 10), box(10 + m, 0, 20, 10)])), LAWN, NOTHING);
    expect(of(0.00015)).toBeCloseTo(60, 2);
    expect(of(0.0003)).toBeCloseTo(80, 2);
  });

  it("a thing that only just reaches over the edge is told along the way it does", () => {
    // A wedge that leaves the lawn's edge slowly: 0 at e = 5, 1 m at e = 15.
    const wedge: AreaM = { shell: Float64Array.of(5, 0, 15, 0, 15, 1), holes: [] };
    const pieces = piecesFor(siteOf([lawn], { things: [thingOf("bed", wedge)] }));
    expect(metres(pieces, LAWN, SOFT)).toBeCloseTo(Math.hypot(10, 1) + 1, 1);
    expect(metres(pieces, LAWN, NOTHING)).toBeCloseTo(50, 1);
  });

  it("a vertex said twice changes nothing", () => {
    const twice: AreaM = { shell: Float64Array.of(0, 0, 20, 0, 20, 0, 20, 10, 0, 10), holes: [] };
    expect(piecesFor(siteOf([twice]))).toHaveLength(4);
  });

  it("holes are outlines too", () => {
    const ring: AreaM = { shell: lawn.shell, holes: [Float64Array.of(5, 5, 5, 6, 6, 6, 6, 5)] };
    expect(metres(piecesFor(siteOf([ring])), LAWN, NOTHING)).toBeCloseTo(64, 9);
  });
});

/** Stretches of the lawn's south edge: from, to, kind, metres asked. */
function southOf(site: Site): [number, number, string, number][] {
  const piece = piecesFor(site).find(({ an, bn, lawn: own }) => own && an === 0 && bn === 0)!;
  return new Kinds(site, MACHINE).of(piece).map(shown);
}
const round = (m: number) => Math.round(1e6 * m) / 1e6;
const shown = ({ ae, be, kind, setinM }: KindedPiece): [number, number, string, number] => [
  round(ae),
  round(be),
  kind,
  setinM,
];
const withLawn = (own: Partial<Lawn>): Site => ({
  ...siteOf([lawn]),
  lawns: [{ name: "Lawn", area: lawn, source: {}, ...own }],
});

describe("what an edge is", () => {
  it("open where nothing is said, else what the lawn says", () => {
    expect(southOf(siteOf([lawn]))).toEqual([[0, 20, "open", 0.3]]);
    expect(southOf(withLawn({ edgeKind: "wall" }))).toEqual([[0, 20, "wall", 0.4]]);
    expect(southOf(withLawn({ setinM: 0.55 }))).toEqual([[0, 20, "open", 0.55]]);
  });

  const lined = (offM: number, kind: EdgeKind = "wall", more: Partial<EdgeLine> = {}) =>
    southOf(siteOf([lawn], { edgeLines: [edgeLine(kind, [5, offM, 15, offM], more)] }));

  it("what a line beside it says, as far as the line goes", () => {
    const told = [
      [0, 5, "open", 0.3],
      [5, 15, "wall", 0.4],
      [15, 20, "open", 0.3],
    ];
    expect(lined(0)).toEqual(told);
    expect(lined(-0.2)).toEqual(told);
    expect(lined(0.2)).toEqual(told);
    expect(lined(-0.2994)).toEqual(told);
    expect(lined(-0.2, "wall", { setinM: 0.7 })[1]).toEqual([5, 15, "wall", 0.7]);
  });

  it("beyond 0.30 m a line says nothing; within half a millimetre of that the lesser is asked", () => {
    expect(lined(-0.3006)).toEqual([[0, 20, "open", 0.3]]);
    expect(lined(0.3006)).toEqual([[0, 20, "open", 0.3]]);
    expect(lined(-0.2998).map(([, , , m]) => m)).toEqual([0.3, 0.3, 0.3]);
    // A line that asks for less is believed at once.
    expect(lined(-0.3004, "flush")[1]).toEqual([5, 15, "flush", 0.1]);
    expect(lined(-0.3006, "flush")).toHaveLength(1);
  });

  const leaning = (deg: number) => {
    // 0.2 m across beside the middle of the edge.
    const [ue, un] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
    const line = [10 - 0.3 * ue, -0.3 * un, 10 + 0.3 * ue, 0.3 * un];
    return southOf(siteOf([lawn], { edgeLines: [edgeLine("wall", line)] })).map(([, , , m]) => m);
  };

  it("a line at more than 20° says nothing", () => {
    expect(leaning(19)).toContain(0.4);
    expect(leaning(-19)).toContain(0.4);
    expect(leaning(161)).toContain(0.4);
    expect(leaning(21)).not.toContain(0.4);
    expect(leaning(-21)).not.toContain(0.4);
    expect(leaning(199)).toContain(0.4);
  });

  it("a slanting line speaks where it is near enough", () => {
    // From 0 at e = 0 to −1 at e = 10: within 0.30 m up to e = 3, 2.995 surely.
    const site = siteOf([lawn], { edgeLines: [edgeLine("wall", [0, 0, 10, -1])] });
    const found = southOf(site);
    expect(found[0]).toEqual([0, 2.995, "wall", 0.4]);
    expect(found.at(-1)![2]).toBe("open");
    expect(found.at(-1)![1]).toBe(20);
    // The same, coming near.
    const coming = southOf(siteOf([lawn], { edgeLines: [edgeLine("wall", [10, 1, 20, 0])] }));
    expect(coming.at(-1)).toEqual([17.005, 20, "wall", 0.4]);
  });

  const beside = (more: Partial<Thing>, gapM = 0.05) =>
    southOf(siteOf([lawn], { things: [thingOf("T", box(5, -3, 15, -gapM), more)] }));

  it("what a thing beside it is, within 0.10 m", () => {
    expect(beside({ edgeKind: "water" })[1]).toEqual([5, 15, "water", 1]);
    expect(beside({ edgeKind: "wall", setinM: 0.62 })[1]).toEqual([5, 15, "wall", 0.62]);
    expect(beside({ edgeKind: "water" }, 0.0994)[1]).toEqual([5, 15, "water", 1]);
    expect(beside({ edgeKind: "water" }, 0.1006)).toEqual([[0, 20, "open", 0.3]]);
  });

  it("a line outranks a thing, a thing the lawn; of two of one rank the wider counts", () => {
    const of = (lines: EdgeLine[], things: Thing[]) =>
      southOf(siteOf([lawn], { edgeLines: lines, things }))[1];
    const line = (kind: EdgeKind) => edgeLine(kind, [5, 0, 15, 0]);
    const thing = (edgeKind: EdgeKind) => thingOf("T", box(5, -3, 15, -0.05), { edgeKind });
    expect(of([line("flush")], [thing("water")])).toEqual([5, 15, "flush", 0.1]);
    expect(of([], [thing("flush")])).toEqual([5, 15, "flush", 0.1]);
    expect(of([line("wall"), line("drop")], [])).toEqual([5, 15, "drop", 1]);
    expect(of([line("drop"), line("wall")], [])).toEqual([5, 15, "drop", 1]);
    expect(of([], [thing("hedge"), thing("kerb")])).toEqual([5, 15, "kerb", 0.4]);
  });

  it("lawns that are one ground keep what each says of its own, within 5 mm", () => {
    const own = (minN: number, more: object) =>
      southOf(
        withLawn({
          setinM: 0.3,
          ownEdges: [{ area: box(0, minN, 8, 10), ...more }, { area: box(8, 0, 20, 10) }],
        }),
      );
    expect(own(0, { edgeKind: "wall" })).toEqual([
      [0, 8, "wall", 0.3],
      [8, 20, "open", 0.3],
    ]);
    expect(own(0.004, { setinM: 0.8 })[0]).toEqual([0, 8, "open", 0.8]);
    expect(own(0.006, { setinM: 0.8 })[0]).toEqual([0, 8, "open", 0.3]);
    // Without a figure of the lawn's, that of the kind.
    expect(southOf(withLawn({ ownEdges: [{ area: lawn, edgeKind: "wall" }] }))).toEqual([
      [0, 20, "wall", 0.4],
    ]);
  });

  it("a stretch under 25 mm asks for no more than its neighbours", () => {
    const short = (m: number) =>
      southOf(siteOf([lawn], { edgeLines: [edgeLine("drop", [5, 0, 5 + m, 0])] }));
    expect(short(0.024)[1]).toEqual([5, 5.024, "drop", 0.3]);
    expect(short(0.026)[1]).toEqual([5, 5.026, "drop", 1]);
    // One that asks for less keeps it.
    const less = southOf(siteOf([lawn], { edgeLines: [edgeLine("flush", [5, 0, 5.02, 0])] }));
    expect(less[1]).toEqual([5, 5.02, "flush", 0.1]);
    // At the end of the edge there is one neighbour.
    const last = southOf(siteOf([lawn], { edgeLines: [edgeLine("drop", [19.98, 0, 20, 0])] }));
    expect(last.at(-1)).toEqual([19.98, 20, "drop", 0.3]);
  });

  it("tells where flush paving lies along it", () => {
    const site = siteOf([lawn], {
      things: [thingOf("path", box(5, -3, 15, 0), { contact: "flush", edgeKind: "flush" })],
    });
    const piece = piecesFor(site).filter(({ lawn: own, an, bn }) => own && an === 0 && bn === 0);
    const kinded = piece.flatMap((one) => new Kinds(site, MACHINE).of(one));
    expect(kinded.map(({ ae, be, alongFlush }) => [ae, be, alongFlush])).toEqual([
      [0, 5, false],
      [5, 15, true],
      [15, 20, false],
    ]);
  });

  it("a line said in two equal points says nothing", () => {
    expect(southOf(siteOf([lawn], { edgeLines: [edgeLine("drop", [5, 0, 5, 0])] }))).toHaveLength(
      1,
    );
  });
});

const wire = loop(corners(0.3, 0.3, 19.7, 9.7));
const groundOf = (more: Partial<Site>, own = wire, lawns = [lawn]) =>
  courtOf(siteOf(lawns, more), [own]).ground;
/** Edges that ask, of one name: metres of them by what they ask. */
const asked = (ground: ReturnType<typeof groundOf>, what: RegExp) => {
  const sums: Record<string, number> = {};
  for (const one of ground.asking) {
    if (!what.test(one.what)) continue;
    const key = `${one.setinM}${one.leftOnly ? "" : " anywhere"}${one.mayCross ? " flush" : ""}`;
    sums[key] = round((sums[key] ?? 0) + Math.hypot(one.be - one.ae, one.bn - one.an));
  }
  return sums;
};

describe("edges that ask for a distance", () => {
  it("have ground on their left", () => {
    const ground = groundOf({ things: [thingOf("Bed", box(5, 4, 8, 6))] });
    expect(asked(ground, /edge \(open\)/)).toEqual({ "0.3": 60 });
    expect(asked(ground, /^Bed$/)).toEqual({ "0.3": 10 });
    const bed = ground.asking.find(({ what }) => what === "Bed")!;
    // Clockwise round the bed: lawn on the left.
    expect([bed.ae, bed.an, bed.be, bed.bn]).toEqual([8, 4, 5, 4]);
    expect(ground.mostSetinM).toBe(0.3);
  });

  it("firm things inside the wire ask for nothing, outside for their set-in", () => {
    const house = (area: AreaM) => [thingOf("House", area, { contact: "firm", edgeKind: "wall" })];
    const within = groundOf({ things: house(box(5, 4, 8, 6)) });
    expect(asked(within, /House/)).toEqual({});
    expect(within.isShutIn(box(-2, -2, -1, -1))).toBe(false);
    // Its first corner lies outside, another inside: the wire goes through it.
    expect(within.isShutIn(box(0, 0, 1, 1))).toBe(true);
    const beyond = groundOf(
      { things: house(box(15, -1, 25, 11)) },
      loop(corners(0.3, 0.3, 14.6, 9.7)),
    );
    expect(asked(beyond, /House/)).toEqual({ "0.4": 10 });
  });

  it("water, drops and what asks for more than an open edge ask wherever the wire lies", () => {
    const things = [thingOf("Pond", box(5, 4, 8, 6), { edgeKind: "water" })];
    expect(asked(groundOf({ things }), /Pond/)).toEqual({ "1": 10, "1 anywhere": 10 });
    const own = [thingOf("Bed", box(5, 4, 8, 6), { setinM: 0.31 })];
    expect(asked(groundOf({ things: own }), /Bed/)).toEqual({ "0.31": 10, "0.31 anywhere": 10 });
    const holed = { shell: box(5, 4, 8, 6).shell, holes: [box(6, 4.5, 7, 5.5).shell] };
    const ring = [thingOf("Moat", holed, { edgeKind: "water" })];
    expect(asked(groundOf({ things: ring }), /Moat/)["1 anywhere"]).toBe(14);
    const lines = [
      edgeLine("drop", [5, 5, 8, 5]),
      edgeLine("wall", [5, 6, 8, 6, 8, 8]),
      edgeLine("hedge", [5, 7, 8, 7]),
    ];
    const ground = groundOf({ edgeLines: lines });
    expect(asked(ground, /edge line/)).toEqual({ "1 anywhere": 3, "0.4 anywhere": 5 });
    expect(ground.asking.map(({ what }) => what)).toContain("the edge line (drop)");
    expect(
      asked(
        groundOf({ edgeLines: [edgeLine("hedge", [5, 5, 8, 5], { setinM: 0.5 })] }),
        /edge line/,
      ),
    ).toEqual({ "0.5 anywhere": 3 });
    // A firm thing keeps the machine off by itself.
    const wall = [thingOf("Wall", box(5, 4, 8, 6), { contact: "firm", edgeKind: "wall" })];
    expect(asked(groundOf({ things: wall }), /Wall/)).toEqual({});
  });

  const path = (area: AreaM) => thingOf("Path", area, { contact: "flush", edgeKind: "flush" });

  it("flush paving that the wire takes in is no edge", () => {
    const ground = groundOf({ things: [path(box(5, 4, 8, 6))] });
    expect(asked(ground, /Path/)).toEqual({});
    expect(ground.flushCrossings).toEqual([]);
  });

  it("flush paving outside the wire asks for its own set-in", () => {
    const ground = groundOf({ things: [path(box(5, -3, 15, 0))] }, wire);
    expect(asked(ground, /lawn's edge \(flush\)/)).toEqual({ "0.1 flush": 10 });
    expect(asked(ground, /lawn's edge \(open\)/)).toEqual({ "0.3": 50 });
  });

  it("flush paving over lawn that the wire crosses is driven over as a whole", () => {
    // A path across the whole lawn and beyond.
    const ground = groundOf({ things: [path(box(9, -2, 11, 12))] });
    // On the lawn its sides are no edges; off it, beyond the wire, nobody drives.
    expect(asked(ground, /Path/)).toEqual({});
    expect(ground.flushCrossings).toHaveLength(4);
    expect(ground.flushCrossings.map(([e, n]) => [e, round(n)]).sort(byBoth)).toEqual([
      [9, 0.3],
      [9, 9.7],
      [11, 0.3],
      [11, 9.7],
    ]);
    expect(asked(ground, /edge \(open\)/)).toEqual({ "0.3": 56 });
  });

  it("paving between two lawns asks but where it is crossed", () => {
    const things = [path(box(9, 0, 11, 10))];
    const lawns = [box(0, 0, 9, 10), box(11, 0, 20, 10)];
    const ground = groundOf({ things }, wire, lawns);
    // 0.3 m of each of its two sides lie beyond the wire at either end; lawn and path both say so.
    expect(asked(ground, /lawn's edge/)["0.1 flush"]).toBeCloseTo(1.2, 6);
    expect(asked(ground, /Path/)["0.1 flush"]).toBeCloseTo(1.2, 6);
    // At four places, each told twice.
    expect(ground.flushCrossings).toHaveLength(8);
  });

  it("slips of edge under 25 mm ask for no more than the edges at their ends", () => {
    // A drop of 20 mm as an edge of its own: a notch in the lawn's outline.
    const notched: AreaM = {
      shell: Float64Array.of(0, 0, 10, 0, 10.02, 0, 20, 0, 20, 10, 0, 10),
      holes: [],
    };
    const of = (kind: EdgeKind) =>
      asked(
        groundOf({ edgeLines: [edgeLine(kind, [10, 0, 10.02, 0])] }, wire, [notched]),
        /lawn's edge/,
      );
    expect(of("drop")).toEqual({ "0.3": 60 });
    expect(of("flush")["0.1"]).toBeCloseTo(0.02, 6);
  });
});

const byBoth = (a: readonly number[], b: readonly number[]) => a[0]! - b[0]! || a[1]! - b[1]!;
