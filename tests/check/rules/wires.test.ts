/** The wire as the judge sees it: places along it, and where it runs as a pair. */
import { describe, expect, it } from "vitest";
import { Wires } from "../../../src/check/wires.ts";
import { corners, loop } from "./scene.ts";

const two = new Wires([loop(corners(0, 0, 8, 4)), loop(corners(20, 0, 23, 4), { name: "B" })]);

describe("places along the wire", () => {
  it("segments belong to loops, one after the other", () => {
    expect(two.count).toBe(8);
    expect([...two.loopOf]).toEqual([0, 0, 0, 0, 1, 1, 1, 1]);
    expect([...two.starts]).toEqual([0, 4, 8]);
    expect([...two.alongM]).toEqual([0, 8, 12, 20, 0, 3, 7, 10]);
    expect(two.lengthsM).toEqual([24, 14]);
    expect([two.nameOf(3), two.nameOf(4)]).toEqual(["A", "B"]);
  });

  it("the one after the last is the first of its own loop", () => {
    expect([0, 3, 4, 7].map((s) => two.next(s))).toEqual([1, 0, 5, 4]);
    expect([0, 3, 4, 7].map((s) => two.previous(s))).toEqual([3, 2, 7, 6]);
  });

  it("ways along the wire go the shorter way round", () => {
    expect(two.segmentM(4)).toBe(3);
    expect(two.pointAt(1, 0.25)).toEqual([8, 1]);
    expect(two.wayM(0, 0.5, 1, 0.25)).toBe(5);
    expect(two.wayM(1, 0.25, 0, 0.5)).toBe(5);
    expect(two.wayM(0, 0.25, 3, 0.75)).toBe(3);
    expect(two.wayM(4, 0, 7, 0.5)).toBe(2);
  });

  it("goes round what lies inside", () => {
    expect([two.winding(0, 4, 2), two.winding(1, 4, 2), two.winding(1, 21, 2)]).toEqual([1, 0, 1]);
    expect([two.windingOfAll(4, 2), two.windingOfAll(21, 2), two.windingOfAll(15, 2)]).toEqual([
      1, 1, 0,
    ]);
    const double = new Wires([loop(corners(0, 0, 8, 4)), loop(corners(1, 1, 9, 5))]);
    expect(double.windingOfAll(4, 2)).toBe(2);
  });
});

/** A field with a slit from its top, `gapM` wide and 5 m deep, lawn on the outside of the slit. */
const slit = (gapM: number, depthM = 5) =>
  new Wires([
    loop([0, 0, 10, 0, 10, 10, 5 + gapM, 10, 5 + gapM, 10 - depthM, 5, 10 - depthM, 5, 10, 0, 10]),
  ]);

describe("pairs as the wire shows them", () => {
  it("two wires against each other, no lawn between", () => {
    const wires = slit(0.01);
    expect([...wires.paired.keys()]).toEqual([3, 5]);
    for (const [s, partner] of [
      [3, 5],
      [5, 3],
    ] as const) {
      const [one, ...more] = wires.paired.get(s)!;
      expect(more).toEqual([]);
      expect(one).toMatchObject({ from: 0, to: 1, partner });
      expect(one!.gapM).toBeCloseTo(0.01, 12);
    }
    expect([wires.isPaired(3, 0), wires.isPaired(3, 1), wires.isPaired(2, 0.5)]).toEqual([
      true,
      true,
      false,
    ]);
  });

  it("up to 0.10 m apart and no farther", () => {
    expect(slit(0.0999).paired.size).toBe(2);
    expect(slit(0.1001).paired.size).toBe(0);
  });

  it("not with lawn between: the same two wires the other way round are a narrow tongue", () => {
    const tongue = new Wires([loop([0, 0, 10, 0, 10, 5, 5.05, 5, 5.05, 10, 5, 10, 5, 5, 0, 5])]);
    expect(tongue.paired.size).toBe(0);
  });

  it("only as far as they lie beside each other", () => {
    // The right wire goes down 5 m from 10 to 5; the left comes up from 5 to 7 only.
    const wires = new Wires([loop([0, 0, 10, 0, 10, 10, 5.01, 10, 5.01, 5, 5, 5, 5, 7, 0, 7])]);
    const one = wires.paired.get(3)![0]!;
    expect([one.from, one.to]).toEqual([0.6, 1]);
    expect([wires.isPaired(3, 0.5), wires.isPaired(3, 0.6), wires.isPaired(3, 0.7)]).toEqual([
      false,
      true,
      true,
    ]);
    expect(wires.paired.get(5)![0]).toMatchObject({ from: 0, to: 1, partner: 3 });
  });

  it("within 20° of each other", () => {
    // The left wire leans away by an angle, from 5 mm to the left of the right one's foot.
    const lean = (deg: number) => {
      const lengthM = 0.2;
      const e = 5 - lengthM * Math.sin((deg * Math.PI) / 180);
      const n = 5 + lengthM * Math.cos((deg * Math.PI) / 180);
      return new Wires([
        loop([0, 0, 10, 0, 10, 10, 5.005, 10, 5.005, 5.2, 5.005, 5, 5, 5, e, n, 0, n]),
      ]);
    };
    expect(lean(19).paired.size).toBe(2);
    expect(lean(21).paired.size).toBe(0);
  });

  it("wires of two loops are no pair", () => {
    const wires = new Wires([
      loop(corners(0, 0, 5, 5)),
      loop(corners(5.01, 0, 10, 5), { name: "B" }),
    ]);
    expect(wires.paired.size).toBe(0);
  });
});
