import { describe, expect, it } from "vitest";
import { readWkb } from "../../src/import/wkb.ts";

const hex = (text: string) => new Uint8Array(Buffer.from(text.replace(/\s/g, ""), "hex"));

describe("WKB", () => {
  it("reads the example of OGC 06-103r4, clause 8.2.8 (polygon of two rings, by its layout)", () => {
    const ring = (x: number) => {
      const view = new DataView(new ArrayBuffer(4 + 16 * 4));
      view.setUint32(0, 4, true);
      [
        [x, 0],
        [x + 1, 0],
        [x, 1],
        [x, 0],
      ].forEach(([u, v], i) => {
        view.setFloat64(4 + 16 * i, u!, true);
        view.setFloat64(12 + 16 * i, v!, true);
      });
      return Buffer.from(view.buffer).toString("hex");
    };
    const read = readWkb(hex(`01 03000000 02000000 ${ring(0)} ${ring(5)}`));
    expect(read).toMatchObject({ kind: "geometry", geometry: { type: "Polygon" } });
    expect(read.kind === "geometry" && read.geometry).toHaveProperty("coordinates[1][1]", [6, 0]);
  });

  // Laid out by hand from the type numbers of ISO 13249-3 and of EWKB.
  const [one, two, three, four] = [
    "000000000000f03f",
    "0000000000000040",
    "0000000000000840",
    "0000000000001040",
  ];
  it.each([
    ["ISO Z", `01 e9030000 ${one}${two}${three}`, [1, 2, 3], undefined],
    ["ISO M", `01 d1070000 ${one}${two}${three}`, [1, 2], [3]],
    ["ISO ZM", `01 b90b0000 ${one}${two}${three}${four}`, [1, 2, 3], [4]],
    ["EWKB Z with SRID", `01 010000a0 e6100000 ${one}${two}${three}`, [1, 2, 3], undefined],
    ["EWKB ZM", `01 010000c0 ${one}${two}${three}${four}`, [1, 2, 3], [4]],
  ])("%s", (_name, text, coordinates, measures) => {
    expect(readWkb(hex(text))).toEqual({
      kind: "geometry",
      geometry: { type: "Point", coordinates },
      ...(measures ? { measures } : {}),
    });
  });

  it.each([
    ["a count of 4 thousand million positions", "01 02000000 ffffffff"],
    ["a count of 4 thousand million members", "01 07000000 ffffffff"],
    ["a point cut short", `01 01000000 ${one}`],
    ["a type that does not exist", "01 63000000"],
    ["a line among points", `01 04000000 01000000 01 02000000 00000000`],
    ["collections in collections without end", "01 07000000 01000000".repeat(500)],
  ])("refuses %s", (_name, text) => {
    expect(readWkb(hex(text)).kind).toBe("damaged");
  });

  it("names curves and surfaces", () => {
    expect(readWkb(hex("01 0a000000 00000000"))).toEqual({ kind: "type", name: "CurvePolygon" });
    expect(readWkb(hex("01 f8030000 00000000"))).toEqual({ kind: "type", name: "TIN" });
  });

  it("takes empty shapes for none", () => {
    const nan = "000000000000f87f";
    for (const text of [
      `01 01000000 ${nan}${nan}`,
      "01 02000000 00000000",
      "01 06000000 00000000",
    ]) {
      expect(readWkb(hex(text))).toEqual({ kind: "geometry", geometry: null });
    }
  });
});
