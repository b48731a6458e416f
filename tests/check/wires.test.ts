/** What the judge makes of bare wire: which of it is the outer ring, and what it goes round. */
import { describe, expect, it } from "vitest";
import { Ground } from "../../src/check/ground/ground.ts";
import { Wires } from "../../src/check/wires.ts";
import type { AreaM } from "../../src/model/geometry.ts";
import type { Site, Thing } from "../../src/model/site.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { loop as loopOf } from "./rules/scene.ts";

const loop = (...wire: number[]) => loopOf(wire);

const area = (...shell: number[]): AreaM => ({ shell: Float64Array.from(shell), holes: [] });

/** A square of 10 m; up the middle of its lower side a pair, 10 mm apart, to a square island. */
const withIsland = [
  [0, 0, 4.995, 0],
  [4.995, 4, 4, 4, 4, 6, 6, 6, 6, 4, 5.005, 4],
  [5.005, 0, 10, 0, 10, 10, 0, 10],
] as const;

describe("the outer ring", () => {
  it("is what lies before and after the pair, wherever the wire begins", () => {
    const [before, island, after] = withIsland;
    const outer = (...wire: number[]) => {
      const wires = new Wires([loop(...wire)]);
      return Array.from({ length: wires.count }, (_, s) => (wires.isOuter(s) ? 1 : 0)).join("");
    };
    expect(outer(...before, ...island, ...after)).toBe("100000001111");
    // Begun at the island.
    expect(outer(...island, ...after, ...before)).toBe("000000111110");
  });
});

describe("what the wire goes round", () => {
  const wires = new Wires([loop(0, 0, 10, 0, 10, 10, 0, 10)]);
  const isShutIn = (one: AreaM) => {
    const site = { things: [], lawns: [], edgeLines: [] } as unknown as Site;
    return new Ground(site, builtInProfile("small"), wires).isShutIn(one);
  };

  it("is told by all of an outline, not by its first vertex", () => {
    expect(isShutIn(area(2, 2, 4, 2, 4, 4))).toBe(true);
    expect(isShutIn(area(-1, 5, 2, 4, 2, 6))).toBe(true);
    expect(isShutIn(area(2, 4, 2, 6, -1, 5))).toBe(true);
    expect(isShutIn(area(-3, 5, -1, 4, -1, 6))).toBe(false);
    // A house round a court with lawn and wire in it.
    expect(isShutIn(area(-2, -2, 12, -2, 12, 12, -2, 12))).toBe(false);
  });

  it("is told for each area of a thing by itself", () => {
    const profile = builtInProfile("small");
    const lawn = { name: "lawn", area: area(-1, -1, 11, -1, 11, 11, -1, 11) };
    const posts = {
      name: "posts",
      role: "building",
      contact: "firm",
      edgeKind: "wall",
      areas: [area(5, 5, 6, 5, 6, 6), area(10.1, 5, 10.6, 5, 10.6, 6, 10.1, 6)],
    } as unknown as Thing;
    const site = { things: [posts], lawns: [lawn], edgeLines: [] } as unknown as Site;
    const asking = new Ground(site, profile, wires).asking.filter(({ what }) => what === "posts");
    // The one inside is driven round; the one outside asks for the set-in of a wall.
    expect(asking.map(({ ae }) => ae > 10).every(Boolean)).toBe(true);
    expect(asking).toHaveLength(4);
    expect(asking[0]!.setinM).toBe(profile.setinM.wall);
  });
});
