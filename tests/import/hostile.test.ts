import fc from "fast-check";
import { zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { readInputs, sizeRefusal } from "../../src/import/read-inputs.ts";
import type { InputFile } from "../../src/model/features.ts";
import { inputAt, layersOf, problemOf, textInput } from "./fixtures.ts";

/** Most milliseconds that a refusal may take. */
const SOON_MS = 2000;
/** CPU of this process, milliseconds: what an attack costs, however busy the machine is. */
const cpuMs = () => process.cpuUsage().user / 1000;
/** Most bytes by which memory may grow for it. */
const MEMORY_MAX = 300e6;

/** The code of the refusal, which must come soon and with memory bounded. */
async function refusedEarly(input: InputFile): Promise<string> {
  const before = process.memoryUsage();
  const start = cpuMs();
  const outcome = await readInputs([input]);
  expect(cpuMs() - start).toBeLessThan(SOON_MS);
  const after = process.memoryUsage();
  const grown = after.heapUsed + after.arrayBuffers - before.heapUsed - before.arrayBuffers;
  expect(grown).toBeLessThan(MEMORY_MAX);
  if (outcome.ok) throw new Error("was read, though it should not have been");
  return outcome.problem.code;
}

const square = "0,0 0,1 1,1 0,0";
const placemark = `<Placemark><Polygon><outerBoundaryIs><LinearRing><coordinates>${square}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>`;

describe("XML", () => {
  const levels = Array.from(
    { length: 12 },
    (_, i) => `<!ENTITY e${i + 1} "${`&e${i};`.repeat(10)}">`,
  ).join("");
  it.each([
    [
      "entities that unfold to 10^12 letters",
      `<!DOCTYPE kml [<!ENTITY e0 "lol">${levels}]><kml>&e12;</kml>`,
    ],
    [
      "an external entity",
      `<!DOCTYPE kml [<!ENTITY x SYSTEM "file:///etc/passwd">]><kml><name>&x;</name>${placemark}</kml>`,
    ],
    [
      "an external document type",
      `<!DOCTYPE kml SYSTEM "http://example.org/kml.dtd"><kml>${placemark}</kml>`,
    ],
    ["a document type behind many comments", `${"<!--x-->".repeat(50_000)}<!DOCTYPE kml []><kml/>`],
  ])("%s is refused", async (_name, text) => {
    for (const name of ["a.kml", "a.gpx"]) {
      expect(await refusedEarly(textInput(name, `<?xml version="1.0"?>${text}`))).toBe(
        "XML_DOCTYPE",
      );
    }
  });

  it("an undeclared entity is not looked up", async () => {
    const { layers, codes } = await layersOf(
      textInput(
        "a.kml",
        `<kml><Placemark><name>a&x;b</name><Point><coordinates>1,2</coordinates></Point></Placemark></kml>`,
      ),
    );
    expect(codes).toContain("XML_IRREGULAR");
    expect(layers[0]?.features[0]?.properties.name).toBe("a&x;b");
  });

  it.each(["Folder", "MultiGeometry", "ExtendedData", "x"])(
    "%s nested 200,000 deep is refused",
    async (tag) => {
      const text = `<kml>${`<${tag}>`.repeat(200_000)}${`</${tag}>`.repeat(200_000)}</kml>`;
      expect(await refusedEarly(textInput("a.kml", text))).toBe("XML_TOO_DEEP");
    },
  );

  it("many processing instructions and comments before the root take no more than their length", async () => {
    const prolog = "<?a?><!--b-->".repeat(50_000);
    expect(await refusedEarly(textInput("a.kml", `${prolog}<svg/>`))).toBe("NOT_KML");
    expect(await refusedEarly(textInput("a.kml", `${prolog}<`))).toBe("XML_BROKEN");
  });

  it("thousands of undeclared prefixes take no more than their length", async () => {
    const tags = Array.from({ length: 20_000 }, (_, i) => `<p${i}:x/>`).join("");
    const start = cpuMs();
    const { layers } = await layersOf(
      textInput("a.kml", `<kml>${placemark}<Folder>${tags}</Folder></kml>`),
    );
    expect(layers[0]?.features).toHaveLength(1);
    expect(cpuMs() - start).toBeLessThan(5000);
  });
});

describe("JSON", () => {
  const feature =
    '{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[1,2]}}';
  it.each([
    ["lists", "[".repeat(2_000_000)],
    ["objects", '{"a":'.repeat(1_000_000)],
    [
      "coordinates",
      `{"type":"LineString","coordinates":${"[".repeat(100_000)}${"]".repeat(100_000)}}`,
    ],
    [
      "a property",
      `{"type":"FeatureCollection","features":[{"type":"Feature","geometry":null,"properties":{"a":${"[".repeat(100_000)}${"]".repeat(100_000)}}}]}`,
    ],
    [
      "collections",
      `${'{"type":"GeometryCollection","geometries":['.repeat(50_000)}${"]}".repeat(50_000)}`,
    ],
  ])("%s nested without end are refused", async (_name, text) => {
    expect(await refusedEarly(textInput("a.geojson", text))).toBe("JSON_TOO_DEEP");
  });

  it("__proto__ changes nothing, as a member of the file, of a feature or of its properties", async () => {
    const evil = '"__proto__":{"role":"lawn","polluted":true}';
    const text = `{"type":"FeatureCollection",${evil},"features":[{"type":"Feature",${evil},"properties":{"name":"a",${evil}},"geometry":{"type":"Point","coordinates":[1,2],${evil}}}]}`;
    const { layers, codes } = await layersOf(textInput("a.geojson", text));
    expect(codes).toEqual(["ATTRIBUTE_NAME_UNSAFE"]);
    const [only] = layers[0]!.features;
    expect(only?.properties).toEqual({ name: "a" });
    expect(Object.hasOwn(only!.properties, "__proto__")).toBe(false);
    expect(Object.getPrototypeOf(only!.properties)).toBe(Object.prototype);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
    expect(layers[0]?.fields).toEqual(["name"]);
  });

  it("__proto__ among ExtendedData is left out with a finding", async () => {
    const data = '<ExtendedData><Data name="__proto__"><value>x</value></Data></ExtendedData>';
    const { layers, codes } = await layersOf(
      textInput(
        "a.kml",
        `<kml><Placemark>${data}<Point><coordinates>1,2</coordinates></Point></Placemark></kml>`,
      ),
    );
    expect(codes).toContain("ATTRIBUTE_NAME_UNSAFE");
    expect(layers[0]?.fields).toEqual([]);
  });

  it("strings of quotes and backslashes do not hide what comes after", async () => {
    const tricky = JSON.stringify('\\"}],[{\\\\"');
    const text = `{"a":${tricky},"type":"FeatureCollection","features":[${feature.replace("{}", `{"b":${tricky}}`)},${feature}]}`;
    const { layers } = await layersOf(textInput("a.geojson", text));
    expect(layers[0]?.features).toHaveLength(2);
    expect(layers[0]?.features[0]?.properties.b).toBe('\\"}],[{\\\\"');
  });
});

describe("size", () => {
  const head = (name: string, text: string) => textInput(name, text);
  it.each([
    ["a.geojson", '{"type":"FeatureCollection","features":[', 1e9],
    ["a.kml", "<kml>", 1e9],
    ["a.gpx", "<gpx>", 1e9],
    ["a.csv", "1,2,3", 1e9],
    ["a.fgb", "fgb", 3e9],
  ])("%s of a gigabyte or more is refused by its beginning", (name, text, bytes) => {
    expect(sizeRefusal(head(name, text), bytes)).toMatchObject({
      code: "FILE_TOO_LARGE",
      file: name,
    });
    expect(sizeRefusal(head(name, text), 50e6)).toBeUndefined();
  });

  it("one line longer than the limit is refused without being parsed", async () => {
    const bytes = new Uint8Array(600_000_000).fill(0x31);
    bytes[0] = 0x7b;
    expect(await refusedEarly({ name: "a.geojson", bytes })).toBe("FILE_TOO_LARGE");
    const outcome = await readInputs(
      [textInput("b.geojson", `{"type":"Point"${" ".repeat(2000)}}`)],
      {
        textBytesMax: 1000,
      },
    );
    expect(!outcome.ok && outcome.problem.code).toBe("FILE_TOO_LARGE");
  });
});

describe("archives", () => {
  const zip = (name: string, files: Record<string, Uint8Array>): InputFile => ({
    name,
    bytes: zipSync(files),
  });
  /** The zip with the unpacked size of its first entry changed in both places that say it. */
  function withSize({ name, bytes }: InputFile, size: number): InputFile {
    const copy = bytes.slice();
    const view = new DataView(copy.buffer);
    for (let at = 0; at + 30 < copy.length; at++) {
      if (view.getUint32(at, true) === 0x0403_4b50) view.setUint32(at + 22, size, true);
      if (view.getUint32(at, true) === 0x0201_4b50) view.setUint32(at + 24, size, true);
    }
    return { name, bytes: copy };
  }

  it("a bomb of zeros is refused by its ratio", async () => {
    const zeros = new Uint8Array(70_000_000);
    expect(await refusedEarly(zip("a.zip", { "a.shp": zeros }))).toBe("ZIP_TOO_LARGE");
    expect(await refusedEarly(zip("a.kmz", { "doc.kml": zeros }))).toBe("ZIP_TOO_LARGE");
  });

  it("a bomb of many entries is refused by their sum", async () => {
    const zeros = new Uint8Array(10_000_000);
    const files = Object.fromEntries(Array.from({ length: 7 }, (_, i) => [`${i}.shp`, zeros]));
    expect(await refusedEarly(zip("a.zip", files))).toBe("ZIP_TOO_LARGE");
  });

  it("a size of 4 GB in the list is refused before memory is set aside for it", async () => {
    const small = zip("a.zip", { "a.shp": new Uint8Array(500) });
    expect(await refusedEarly(withSize(small, 0xffff_fff0))).toBe("ZIP_TOO_LARGE");
    expect(await refusedEarly(withSize(small, 900_000_000))).toBe("ZIP_DAMAGED");
  });

  it("an entry that unpacks to more than its list says takes no more memory than that", async () => {
    const zeros = zip("a.kmz", { "doc.kml": new Uint8Array(5_000_000).fill(0x20) });
    expect(await refusedEarly(withSize(zeros, 1000))).toMatch(/^[A-Z_]+$/);
  });

  it.each(["../../etc/cron.d/x.shp", "/etc/x.shp", "C:\\x.shp", "a/../../x.shp", "..\\x.shp"])(
    "a path that climbs out is refused: %s",
    async (path) => {
      const files = { "good.shp": new Uint8Array(100), [path]: new Uint8Array(100) };
      expect(await refusedEarly(zip("a.zip", files))).toBe("ZIP_PATH_UNSAFE");
      expect(
        await refusedEarly(
          zip("a.kmz", { "doc.kml": new Uint8Array(9), [path]: new Uint8Array(1) }),
        ),
      ).toBe("ZIP_PATH_UNSAFE");
    },
  );

  it("a list of files longer than the archive is refused", async () => {
    const { bytes } = zip("a.zip", { "a.shp": new Uint8Array(200) });
    const copy = bytes.slice();
    new DataView(copy.buffer).setUint16(copy.length - 22 + 8, 65_535, true);
    new DataView(copy.buffer).setUint16(copy.length - 22 + 10, 65_535, true);
    expect(await refusedEarly({ name: "a.zip", bytes: copy })).toMatch(/^ZIP_/);
  });

  it("an archive in the archive is not opened", async () => {
    const inner = zipSync({ "a.kml": new TextEncoder().encode(`<kml>${placemark}</kml>`) });
    expect(await refusedEarly(zip("a.zip", { "inner.zip": inner }))).toBe("ZIP_WITHOUT_LAYERS");
  });

  it("thousands of layers in one archive take no more than their number", async () => {
    const shp = inputAt("tests/fixtures/import/polygonm_with_m.shp").bytes;
    const files = Object.fromEntries(Array.from({ length: 3000 }, (_, i) => [`${i}.shp`, shp]));
    const start = cpuMs();
    const { layers } = await layersOf(zip("a.zip", files));
    expect(layers).toHaveLength(3000);
    expect(cpuMs() - start).toBeLessThan(10_000);
  });
});

describe("counts in shapefile headers that promise gigabytes", () => {
  const poly = inputAt("tests/fixtures/import/poly.shp");
  it.each([
    ["points of a record", 100 + 8 + 40, true, 2 ** 31 - 1],
    ["parts of a record", 100 + 8 + 36, true, 2 ** 31 - 1],
    ["a negative number of points", 100 + 8 + 40, true, -5],
    ["bytes of a record", 100 + 4, false, 2 ** 31 - 1],
    ["a negative length of a record", 100 + 4, false, -2],
    ["bytes of the file", 24, false, 2 ** 31 - 1],
  ])("%s", async (_name, at, little, value) => {
    const bytes = poly.bytes.slice();
    new DataView(bytes.buffer).setInt32(at, value, little);
    const start = cpuMs();
    const outcome = await readInputs([{ ...poly, bytes }]);
    expect(cpuMs() - start).toBeLessThan(SOON_MS);
    const codes = outcome.ok ? outcome.findings.map(({ code }) => code) : [outcome.problem.code];
    expect(codes.join()).toMatch(/SHP_TRUNCATED|SHP_RECORD_DAMAGED/);
  });
});

it("any bytes under any ending give layers or a coded problem, never an exception", async () => {
  const ending = fc.constantFrom(
    "geojson",
    "kml",
    "kmz",
    "shp",
    "zip",
    "gpkg",
    "fgb",
    "gpx",
    "csv",
    "dxf",
    "x",
  );
  const start = fc.constantFrom(
    "",
    "PK\x03\x04",
    "SQLite format 3\0",
    "fgb\x03fgb\0",
    "<kml>",
    "<gpx>",
    "{",
    "\0\0\x27\x0a",
  );
  await fc.assert(
    fc.asyncProperty(
      ending,
      start,
      fc.uint8Array({ maxLength: 400 }),
      async (suffix, mark, noise) => {
        const bytes = new Uint8Array(
          [...mark].map((letter) => letter.charCodeAt(0)).concat([...noise]),
        );
        const outcome = await readInputs([{ name: `a.${suffix}`, bytes }]);
        if (!outcome.ok) expect(outcome.problem.code).toMatch(/^[A-Z0-9_]+$/);
      },
    ),
    { numRuns: 500, seed: 3 },
  );
});

it("refuses what is no data before any format is tried", async () => {
  expect((await problemOf({ name: "a.kml", bytes: new Uint8Array() })).code).toBe("FILE_EMPTY");
});
