import proj4 from "proj4";
import { expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { planInputs } from "../../src/jobs/pegline.ts";
import { inSystem } from "../../src/page/model/in-system.ts";
import { pageSystem } from "../../src/page/model/page-system.ts";

/** A lawn in national coordinates, corner by corner. */
async function planned(corners: readonly (readonly [number, number])[], crs: number) {
  const lawn = {
    type: "FeatureCollection",
    features: [
      {
        type: "Feature",
        properties: { role: "lawn" },
        geometry: { type: "Polygon", coordinates: [[...corners, corners[0]]] },
      },
    ],
  };
  const bytes = new TextEncoder().encode(JSON.stringify(lawn));
  const options = { crsByFile: { "lawn.geojson": crs }, registry: epsgRegistry };
  const outcome = await planInputs([{ name: "lawn.geojson", bytes }], options);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value;
}

it.each([
  ["British National Grid, with its datum shift", 27700, [529_000, 180_000]],
  ["UTM zone 32 N", 32632, [691_000, 5_334_000]],
] as const)("places of the page in the inputs' own system: %s", async (_, crs, [e0, n0]) => {
  const corners = [
    [e0, n0],
    [e0 + 60, n0],
    [e0 + 60, n0 + 45],
    [e0, n0 + 45],
  ] as const;
  const result = await planned(corners, crs);
  const system = pageSystem(result, crs, epsgRegistry)!;
  expect(system.name).toContain(`EPSG:${crs}`);
  const { shell } = result.site.lawns[0]!.area;
  expect(shell.length).toBe(8);
  for (let i = 0; i < shell.length; i += 2) {
    const [x, y] = inSystem(system, [shell[i]!, shell[i + 1]!]);
    const near = Math.min(...corners.map(([e, n]) => Math.hypot(e - x, n - y)));
    expect(near).toBeLessThan(0.001);
  }
});

it("is none for degrees of WGS 84, and for a system that nobody knows", async () => {
  const result = await planned(
    [
      [0, 0],
      [40, 0],
      [40, 40],
      [0, 40],
    ].map(([e, n]) => [500_000 + e!, 5_300_000 + n!] as const),
    32631,
  );
  expect(pageSystem(result, 4326, epsgRegistry)).toBeUndefined();
  expect(pageSystem(result, 999_999, epsgRegistry)).toBeUndefined();
  // proj4, straight: a place 500 m off the plan's middle is given as well.
  const system = pageSystem(result, 32631, epsgRegistry)!;
  const lonLat = result.plan.grid.inverse([500, -300]);
  const utm = proj4("+proj=utm +zone=31 +datum=WGS84", [...lonLat]);
  const [x, y] = inSystem(system, [500, -300]);
  expect(Math.hypot(x - utm[0]!, y - utm[1]!)).toBeLessThan(0.001);
});
