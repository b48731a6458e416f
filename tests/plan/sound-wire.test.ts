/** The last look at a wire, on wires made unsound on purpose. */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { planLoop } from "../../src/plan/loop.ts";
import { hasPlace, unsoundAt } from "../../src/plan/sound-wire.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { box } from "./shapes.ts";

beforeAll(() => loadEngine());

describe("a wire", () => {
  it("is sound when it is simple", () => {
    expect(unsoundAt(box(0, 0, 3, 2).shell)).toBeUndefined();
  });

  it("is unsound where it crosses itself", () => {
    const bow = Float64Array.of(0, 0, 2, 2, 2, 0, 0, 2);
    expect(hasPlace(bow)).toBe(true);
    // The beginning of the first segment that another meets.
    expect(unsoundAt(bow)).toEqual([0, 0]);
  });

  // 1 mm is where the judges say that wires touch (docs/judge.md).
  it.each([
    [0.0005, false],
    [0.001, false],
    [0.002, true],
  ])("with a slit of %d m between two spans is sound: %s", (slitM, sound) => {
    const bay = Float64Array.of(0, 0, 4, 0, 4, 2, 2, 2, 2, 1, 2 - slitM, 1, 2 - slitM, 2, 0, 2);
    expect(unsoundAt(bay) === undefined).toBe(sound);
  });

  it("is sound in a tip, whose two spans are neighbours", () => {
    const tip = Float64Array.of(0, 0, 4, 0, 4, 2, 2, 2, 1.99, 1, 1.98, 2, 0, 2);
    expect(unsoundAt(tip)).toBeUndefined();
  });

  it("is sound where bends of millimetres lie near each other along it", () => {
    const bends = Float64Array.of(0, 0, 3, 0, 3.0004, 0.0003, 3.0005, 0.0007, 3.0005, 2, 0, 2);
    expect(unsoundAt(bends)).toBeUndefined();
  });

  it("is unsound after the last vertex with a place", () => {
    const lost = Float64Array.of(0, 0, 2, 0, NaN, 2, 0, 2);
    expect(hasPlace(lost)).toBe(false);
    expect(unsoundAt(lost)).toEqual([2, 0]);
  });

  it("of a part whose hole crosses its edge is never passed as sound", () => {
    const hole = Float64Array.of(-1, 2, -1, 4, 2, 4, 2, 2);
    const part = { ...box(0, 0, 10, 8), holes: [hole] };
    const draft = planLoop("A", part, [], [], undefined, builtInProfile("small"));
    // The edge of the lawn at x = 0 is met by the hole at y = 2 and y = 4: the place told is the
    // beginning of a span of one of the two.
    const [e, n] = draft.unsoundAtM!;
    expect(Math.abs(e)).toBeLessThan(2.5);
    expect(n).toBeGreaterThan(0);
    expect(n).toBeLessThan(6);
  });
});
