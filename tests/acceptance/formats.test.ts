/** The same site from every format and reference system: the same wire, within 5 mm. */
import { readFile } from "node:fs/promises";
import type { Position } from "geojson";
import { describe, expect, it } from "vitest";
import { planeAt } from "../support/plane.ts";
import { judgeWritten, plan, truthAsRead, type Written } from "../support/planning.ts";

const FORMATS = new URL("../fixtures/formats/", import.meta.url);
const DEMO = new URL("../../fixtures/demo/", import.meta.url);

async function planFile(name: string, folder = FORMATS): Promise<Written> {
  return plan([{ name, bytes: await readFile(new URL(name, folder)) }], { name: "site" });
}

function wires({ plan: { features } }: Written): Position[][] {
  return features.flatMap(({ geometry, properties }) =>
    properties?.kind === "boundary-wire" && geometry?.type === "LineString"
      ? [geometry.coordinates]
      : [],
  );
}

/** Largest distance between vertices of the same number, metres; Infinity where counts differ. */
function farthestApart(one: Written, other: Written): number {
  const [a, b] = [wires(one), wires(other)];
  if (a.map((wire) => wire.length).join() !== b.map((wire) => wire.length).join()) return Infinity;
  const plane = planeAt(a[0]![0]!);
  let most = 0;
  a.forEach((wire, w) => {
    wire.forEach((at, i) => {
      const [p, q] = [plane.toPlane(at), plane.toPlane(b[w]![i]!)];
      most = Math.max(most, Math.hypot(p[0] - q[0], p[1] - q[1]));
    });
  });
  return most;
}

describe.each([
  ["biscay", ["biscay.kml", "biscay-32630.zip", "biscay-2154.zip", "biscay-25830.zip"]],
  ["gulf", ["gulf.kml", "gulf-32615.zip", "gulf-2278.zip"]],
  ["pacific", ["pacific.kml", "pacific-32610.zip", "pacific-2992.zip"]],
])("the site %s", (name, files) => {
  it("holds as GeoJSON", async () => {
    const input = {
      name: `${name}.geojson`,
      bytes: await readFile(new URL(`${name}.geojson`, FORMATS)),
    };
    const { breaches } = judgeWritten(await plan([input]), await truthAsRead([input]));
    expect(breaches).toEqual([]);
  });

  it.each(files)("gives the same wire from %s", async (file) => {
    const [one, other] = [await planFile(`${name}.geojson`), await planFile(file)];
    expect(farthestApart(one, other)).toBeLessThan(0.005);
    expect(Math.abs(one.summary.totals.wire_m - other.summary.totals.wire_m)).toBeLessThan(0.005);
    expect(other.summary.totals.pegs).toBe(one.summary.totals.pegs);
  });
});

describe("the demo garden", () => {
  it.each(["house-garden.geojson", "house-garden-station.geojson"])("%s holds", async (name) => {
    const input = { name, bytes: await readFile(new URL(name, DEMO)) };
    const { breaches } = judgeWritten(await plan([input]), await truthAsRead([input]));
    expect(breaches).toEqual([]);
  });

  it.each(["house-garden.kml", "house-garden-shapefile.zip"])(
    "is the same from %s",
    async (file) => {
      const [one, other] = [
        await planFile("house-garden.geojson", DEMO),
        await planFile(file, DEMO),
      ];
      expect(farthestApart(one, other)).toBeLessThan(0.005);
      expect(Math.abs(one.summary.totals.wire_m - other.summary.totals.wire_m)).toBeLessThan(0.005);
    },
  );
});
