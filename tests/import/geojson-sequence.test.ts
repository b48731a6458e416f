import { describe, expect, it } from "vitest";
import { layersOf, problemOf, textInput } from "./fixtures.ts";

const point = (x: number, name = "") => ({
  type: "Feature",
  properties: name === "" ? {} : { name },
  geometry: { type: "Point", coordinates: [x, 1] },
});
const lines = (...values: unknown[]) => `${values.map((one) => JSON.stringify(one)).join("\n")}\n`;
/** RFC 8142, section 2: each text between a record separator and a line feed. */
const sequence = (...values: unknown[]) =>
  values.map((one) => `\x1e${JSON.stringify(one, null, 1)}\n`).join("");

describe("GeoJSON text sequences (RFC 8142)", () => {
  it("reads texts between record separators, over several lines, whatever the ending", async () => {
    for (const name of ["a.geojsons", "a.geojson", "a.json"]) {
      const { layers, findings } = await layersOf(textInput(name, sequence(point(1), point(2))));
      expect(findings).toEqual([]);
      expect(layers[0]).toMatchObject({
        format: "geojson-sequence",
        layer: "a",
        featuresInFile: 2,
        crs: { kind: "wgs84", from: "RFC 7946" },
      });
    }
  });

  it("reads features, geometries and collections alike", async () => {
    const collection = { type: "FeatureCollection", features: [point(3, "c"), point(4, "d")] };
    const { layers } = await layersOf(
      textInput(
        "a.geojsons",
        sequence(point(1, "a"), { type: "Point", coordinates: [2, 2] }, collection),
      ),
    );
    expect(layers[0]?.features).toHaveLength(4);
    expect(layers[0]?.fields).toEqual(["name"]);
  });

  it("skips a text cut short and reads the rest (RFC 8142, section 2: as RFC 7464 has it)", async () => {
    const cut = `\x1e{"type":"Feature","prop\n`;
    const text = `${sequence(point(1))}${cut}${sequence(point(2))}`;
    const { layers, findings } = await layersOf(textInput("a.geojsons", text));
    expect(layers[0]?.features.map(({ number }) => number)).toEqual([1, 3]);
    expect(findings[0]).toMatchObject({
      code: "SEQUENCE_TEXT_BROKEN",
      severity: "error",
      feature: "#2",
    });
  });
});

describe("newline-delimited GeoJSON", () => {
  it("reads one object a line, with blank lines, a byte order mark and CRLF", async () => {
    const text = `\uFEFF${lines(point(1))}\r\n\r\n${lines(point(2), point(3))}`.replace(
      /\n/g,
      "\r\n",
    );
    for (const name of ["a.ndjson", "a.geojsonl", "a.geojson"]) {
      const { layers, findings } = await layersOf(textInput(name, text));
      expect(findings).toEqual([]);
      expect(layers[0]?.features).toHaveLength(3);
    }
  });

  it("leaves a pretty-printed GeoJSON to its own reader", async () => {
    const root = { type: "FeatureCollection", features: [point(1)] };
    const { layers } = await layersOf(textInput("a.geojson", JSON.stringify(root, null, 2)));
    expect(layers[0]?.format).toBe("geojson");
  });

  it("names the line of what is broken", async () => {
    const { findings } = await layersOf(
      textInput("a.ndjson", `${lines(point(1))}oops\n${lines(point(2))}`),
    );
    expect(findings[0]?.message).toContain("line 2");
  });

  it("is refused where nothing in it is GeoJSON, or it is a web page", async () => {
    expect((await problemOf(textInput("a.ndjson", '{"a":1}\n{"b":2}\n'))).code).toBe(
      "SEQUENCE_TEXT_BROKEN",
    );
    expect((await problemOf(textInput("a.ndjson", "<html><body>no"))).code).toBe(
      "FILE_IS_WEB_PAGE",
    );
  });
});
