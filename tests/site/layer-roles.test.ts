import { beforeAll, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { layerRoles } from "../../src/site/layer-roles.ts";
import { box, layer, point, polygon, rect } from "./builder.ts";

beforeAll(() => loadEngine());

it("counts the roles of each layer's features, far or near, holes aside", () => {
  const layers = [
    layer("Lawns", [[polygon(box(0, 0, 20), box(5, 5, 2))], [rect(10, 10, 20)]]),
    layer("Houses", [[rect(500, 0, 10)]]),
    layer("misc", [
      [rect(12, 1, 2)],
      [rect(100, 0, 5)],
      [point(1, 1)],
      [point(2, 2), { role: "ignore" }],
    ]),
  ];
  const found = layerRoles(layers);
  expect(found.map((one) => one.roles)).toEqual([
    { lawn: 2 },
    { building: 1 },
    { bed: 1, lawn: 1 },
  ]);
  expect(found[0]!.because).toBe("the layer name");
  expect(found[2]!.because).toBe("its shape (inside a lawn) (1), its shape (an outer ring) (1)");
  const ruled = layerRoles(layers, { byLayer: { misc: "gravel" }, rules: [], edges: [] });
  expect(ruled[2]).toMatchObject({ roles: { gravel: 4 }, because: "a rule misc=gravel" });
});
