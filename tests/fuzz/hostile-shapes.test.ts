/** Small files that ask for work out of all proportion: shapes, not bytes. */
import { describe, expect, it } from "vitest";
import { readCase } from "./run-case.ts";
import { TARGETS } from "./targets.ts";

const target = (id: string) => TARGETS.find((one) => one.id === id)!;
const bytesOf = (text: string) => new TextEncoder().encode(text);

async function codesOf(id: string, ending: string, text: string): Promise<readonly string[]> {
  const parts = { [ending]: bytesOf(text) };
  const result = await readCase(target(id), { parts, plan: false });
  if ("failure" in result) throw new Error(result.failure.what);
  return result.reached.codes;
}

/** The star polygon {n/k}: each side crosses 2(k − 1) others (Coxeter, Regular Polytopes, 2.8; from memory). */
function star(n: number, k: number): [number, number][] {
  return Array.from({ length: n + 1 }, (_, i) => {
    const angle = (2 * Math.PI * ((i * k) % n)) / n;
    return [-28.5 + 0.0005 * Math.cos(angle), 47.25 + 0.0003 * Math.sin(angle)];
  });
}

const lawn = (ring: [number, number][]) =>
  JSON.stringify({
    type: "Feature",
    properties: { role: "lawn" },
    geometry: { type: "Polygon", coordinates: [ring] },
  });

describe("outlines that cross themselves beyond all sense", () => {
  it("are taken apart as long as that can be done", async () => {
    const codes = await codesOf("geojson", ".geojson", lawn(star(21, 10)));
    expect(codes).toContain("RING_SELF_CROSSES");
  });

  it.each([101, 2001, 8001])("are left out with a finding: %i points", async (n) => {
    const codes = await codesOf("geojson", ".geojson", lawn(star(n, n >> 1)));
    expect(codes).toEqual(["RING_TANGLED", "NO_LAWN"]);
  });
});

describe("arcs said to go round without end", () => {
  const drawing = (start: number | string, end: number | string) =>
    [
      ...["0", "SECTION", "2", "ENTITIES"],
      ...["0", "ELLIPSE", "8", "LAWN", "10", "500000", "20", "4900000", "11", "9", "21", "0"],
      ...["40", "0.5", "41", String(start), "42", String(end)],
      ...["0", "ARC", "8", "EDGE", "10", "500000", "20", "4900000", "40", "5"],
      ...["50", String(start), "51", String(end)],
      ...["0", "ENDSEC", "0", "EOF", ""],
    ].join("\n");

  it.each([
    [0, 600_000_000.283],
    [1e20, 0],
    [1e308, -1e308],
    ["1e999", 0],
  ])("from %s to %s are one turn at most", async (start, end) => {
    const codes = await codesOf("dxf", ".dxf", drawing(start, end));
    expect(codes).not.toContain("RING_SELF_CROSSES");
  });
});
