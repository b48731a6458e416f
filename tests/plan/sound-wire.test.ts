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

  it("is unsound after the last vertex with a place", () => {
    const lost = Float64Array.of(0, 0, 2, 0, NaN, 2, 0, 2);
    expect(hasPlace(lost)).toBe(false);
    expect(unsoundAt(lost)).toEqual([2, 0]);
  });

  it("of a part whose hole crosses its edge is never passed as sound", () => {
    const hole = Float64Array.of(-1, 2, -1, 4, 2, 4, 2, 2);
    const part = { ...box(0, 0, 10, 8), holes: [hole] };
    const draft = planLoop("A", part, [], [], undefined, builtInProfile("small"));
    expect(draft.unsoundAtM).toBeDefined();
  });
});
