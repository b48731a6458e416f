/** The triangulation of areas whose edges are rows of points that rounding leaves not quite straight. */
import { describe, expect, it } from "vitest";
import { triangulate } from "../../src/geometry/triangulate.ts";

function rectangle(width: number, height: number, turnDeg: number): Float64Array {
  const t = (turnDeg * Math.PI) / 180;
  const corners = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
    [0, 0],
  ];
  return Float64Array.from(
    corners.flatMap(([x, y]) => [
      x! * Math.cos(t) - y! * Math.sin(t),
      x! * Math.sin(t) + y! * Math.cos(t),
    ]),
  );
}

function areaInside(mesh: ReturnType<typeof triangulate>): number {
  let area = 0;
  for (let t = 0; t < mesh.inside.length; t++) {
    if (!mesh.inside[t]) continue;
    const [a, b, c] = [0, 1, 2].map((k) => 2 * mesh.triangles[3 * t + k]!);
    const [ae, an] = [mesh.coords[a!]!, mesh.coords[a! + 1]!];
    area +=
      Math.abs(
        (mesh.coords[b!]! - ae) * (mesh.coords[c! + 1]! - an) -
          (mesh.coords[c!]! - ae) * (mesh.coords[b! + 1]! - an),
      ) / 2;
  }
  return area;
}

describe("a triangulation", () => {
  it("ends, forces every edge and holds the whole area, whichever way rectangles are turned", () => {
    for (let turnDeg = 0; turnDeg < 180; turnDeg += 1.5) {
      const far = rectangle(15, 12, turnDeg).map((v, i) => v + (i % 2 === 0 ? 40 : 3));
      const chains = [rectangle(20, 12, turnDeg), far].map((line) => ({ line, label: 0.3 }));
      const mesh = triangulate(chains, 0.3);
      expect(mesh.unforced).toBe(0);
      expect(areaInside(mesh)).toBeCloseTo(20 * 12 + 15 * 12, 6);
    }
  });
});
