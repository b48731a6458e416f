/** What standards ask of the files, apart from what any reader makes of them. */
import { DOMParser, type Document, type Element } from "@xmldom/xmldom";
import { unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { siteGridAt } from "../../../src/crs/site-grid.ts";
import { SqlFile } from "../../../src/import/gpkg/database.ts";
import { PLAN_KINDS } from "../../../src/model/plan-fields.ts";
import { everyKind, exported } from "./plans.ts";

const PLACE = [15.2, 48.1] as const;
const KINDS = everyKind(PLACE, 'Ponds & "Reeds" <east>');
const write = async (...args: [Parameters<typeof exported>[2], (string | number)?]) =>
  exported(KINDS, siteGridAt(PLACE), ...args);

function parsed(text: string): Document {
  const faults: string[] = [];
  const parser = new DOMParser({ onError: (level, message) => faults.push(`${level} ${message}`) });
  const document = parser.parseFromString(text, "text/xml");
  expect(faults).toEqual([]);
  return document as unknown as Document;
}
const elements = (of: Element | Document, name: string): Element[] => [
  ...(of.getElementsByTagNameNS("*", name) as unknown as Element[]),
];
const children = (of: Element): Element[] =>
  [...of.childNodes].filter((node) => node.nodeType === 1) as unknown as Element[];
const names = (of: Element) => children(of).map((child) => child.localName!);

/** Whether a list stands in the order of another, each any number of times. */
function inOrder(list: readonly string[], order: readonly string[]): boolean {
  const places = list.map((name) => order.indexOf(name));
  return places.every((place, i) => place >= 0 && (i === 0 || place >= places[i - 1]!));
}

describe("GeoPackage (OGC 12-128)", () => {
  it("bears its marks and holds the tables, rows and keys that the standard asks for", async () => {
    const { input } = await write("gpkg", "EPSG:32633");
    const { bytes } = input;
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    // Requirements 1 and 2: SQLite 3, application id "GPKG", version 1.3 in user_version.
    expect(new TextDecoder().decode(bytes.subarray(0, 15))).toBe("SQLite format 3");
    expect(view.getUint32(68)).toBe(0x47504b47);
    expect(view.getUint32(60)).toBe(10300);
    const file = await SqlFile.open(bytes);
    const rows = (sql: string) => [...file.rows(sql)];
    // Requirements 6 and 7.
    expect(rows("PRAGMA integrity_check")).toEqual([["ok"]]);
    expect(rows("PRAGMA foreign_key_check")).toEqual([]);
    // Requirement 11: the three systems that are always there; and the one that is used.
    expect(rows("SELECT srs_id, organization FROM gpkg_spatial_ref_sys ORDER BY srs_id")).toEqual([
      [-1, "NONE"],
      [0, "NONE"],
      [4326, "EPSG"],
      [32633, "EPSG"],
    ]);
    const tables = rows("SELECT table_name FROM gpkg_contents WHERE data_type = 'features'").flat();
    expect(tables).toHaveLength(Object.keys(PLAN_KINDS).length);
    for (const table of tables.map(String)) {
      // Requirement 29: an integer primary key; names as the standard recommends them.
      expect(table).toMatch(/^[a-z][a-z0-9_]*$/);
      expect(file.columns(table)[0]).toMatchObject({ name: "fid", type: "INTEGER", key: 1 });
      const [geometry] = rows(
        `SELECT geometry_type_name, srs_id, z, m FROM gpkg_geometry_columns WHERE table_name = '${table}'`,
      );
      expect(geometry!.slice(1)).toEqual([32633, 0, 0]);
      expect(file.columns(table)[1]).toMatchObject({ name: "geom", type: geometry![0] });
      const [box] = rows(
        `SELECT min_x, min_y, max_x, max_y FROM gpkg_contents WHERE table_name = '${table}'`,
      );
      for (const [blob] of rows(`SELECT geom FROM ${table} WHERE geom IS NOT NULL`)) {
        checkBlob(blob as Uint8Array, String(geometry![0]), box as number[]);
      }
    }
    // Every time is one that the standard allows (requirement 15).
    for (const [time] of rows("SELECT last_change FROM gpkg_contents"))
      expect(time).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
    file.close();
  });

  it("has a style for every kind, as XML that is well-formed", async () => {
    const { input } = await write("gpkg");
    const file = await SqlFile.open(input.bytes);
    const styles = [
      ...file.rows("SELECT f_table_name, styleQML, styleSLD, useAsDefault FROM layer_styles"),
    ];
    expect(styles).toHaveLength(Object.keys(PLAN_KINDS).length);
    for (const [table, qml, sld, isDefault] of styles) {
      expect(isDefault, String(table)).toBe(1);
      const drawn = parsed(String(qml));
      const layers = elements(drawn, "layer");
      expect(layers.length).toBeGreaterThan(0);
      const symbols = elements(drawn, "symbol").filter(
        (one) => !one.getAttribute("name")!.startsWith("@"),
      );
      const categories = elements(drawn, "category");
      expect(categories.length === 0 ? 1 : categories.length).toBe(symbols.length);
      const root = parsed(String(sld)).documentElement!;
      expect(root.localName).toBe("StyledLayerDescriptor");
      expect(elements(root, "Rule")).toHaveLength(symbols.length);
      expect(elements(root, "NamedLayer")[0]!.textContent).toContain(String(table));
    }
    file.close();
  });
});

/** Header, envelope and type of a geometry (clause 2.1.3), and that it lies in the box of its table. */
function checkBlob(
  blob: Uint8Array,
  type: string,
  [minX, minY, maxX, maxY]: readonly number[],
): void {
  const view = new DataView(blob.buffer, blob.byteOffset);
  expect([blob[0], blob[1], blob[2]]).toEqual([0x47, 0x50, 0]);
  expect(view.getInt32(4, true)).toBe(32633);
  const flags = blob[3]!;
  expect(flags & 1).toBe(1);
  const envelope = (flags >> 1) & 7;
  const at = 8 + (envelope === 1 ? 32 : 0);
  if (envelope === 1) {
    const [x0, x1, y0, y1] = [0, 1, 2, 3].map((i) => view.getFloat64(8 + 8 * i, true));
    expect(x0! >= minX! && x1! <= maxX! && y0! >= minY! && y1! <= maxY!).toBe(true);
    expect(x0! <= x1! && y0! <= y1!).toBe(true);
  }
  const code = view.getUint32(at + 1, true);
  expect(
    ["", "POINT", "LINESTRING", "POLYGON", "MULTIPOINT", "MULTILINESTRING", "MULTIPOLYGON"][code],
  ).toBe(type);
}

describe("KML (OGC 07-147r2)", () => {
  /** AbstractFeatureGroup, then what each adds, in the order of the schema. */
  const FEATURE = ["name", "visibility", "open", "Snippet", "description", "styleUrl"];
  const PLACEMARK = [...FEATURE, "ExtendedData", "Point", "LineString", "Polygon", "MultiGeometry"];
  const STYLES = ["IconStyle", "LabelStyle", "LineStyle", "PolyStyle"];

  for (const format of ["kml", "kmz"] as const) {
    it(`${format}: elements stand in the order of the schema, and refer to what is there`, async () => {
      const { input } = await write(format);
      const files = format === "kmz" ? unzipSync(input.bytes) : { "doc.kml": input.bytes };
      const document = parsed(new TextDecoder().decode(files["doc.kml"]));
      const root = document.documentElement!;
      expect(root.namespaceURI).toBe("http://www.opengis.net/kml/2.2");
      const [top] = children(root);
      expect(inOrder(names(top!), ["name", "open", "Style", "Schema", "Folder"])).toBe(true);
      for (const folder of elements(document, "Folder"))
        expect(inOrder(names(folder), ["name", "Folder", "Placemark"])).toBe(true);
      const ids = new Set(
        [...elements(document, "Style"), ...elements(document, "Schema")].map(
          (one) => `#${one.getAttribute("id")}`,
        ),
      );
      const placemarks = elements(document, "Placemark");
      expect(placemarks).toHaveLength(KINDS.length);
      for (const placemark of placemarks) {
        expect(inOrder(names(placemark), PLACEMARK), names(placemark).join()).toBe(true);
        expect(ids).toContain(elements(placemark, "styleUrl")[0]!.textContent);
        for (const data of elements(placemark, "SchemaData"))
          expect(ids).toContain(data.getAttribute("schemaUrl"));
      }
      for (const style of elements(document, "Style")) {
        expect(inOrder(names(style), STYLES)).toBe(true);
        for (const colour of elements(style, "color"))
          expect(colour.textContent).toMatch(/^[0-9a-f]{8}$/);
      }
      for (const ring of elements(document, "LinearRing")) {
        const positions = ring.textContent!.trim().split(" ");
        expect(positions.length).toBeGreaterThan(3);
        expect(positions.at(-1)).toBe(positions[0]);
      }
      // Nothing is fetched: icons lie in the archive or there are none.
      const icons = elements(document, "href").map((href) => href.textContent!);
      expect(icons.length > 0).toBe(format === "kmz");
      for (const icon of icons) expect(Object.keys(files)).toContain(icon);
      expect(new TextDecoder().decode(files["doc.kml"])).not.toMatch(
        /https?:\/\/(?!www\.opengis\.net)/,
      );
    });
  }
});

describe("GPX 1.1 (topografix.com)", () => {
  it("stands in the order of the schema", async () => {
    const { input } = await write("gpx");
    const root = parsed(new TextDecoder().decode(input.bytes)).documentElement!;
    expect(root.getAttribute("version")).toBe("1.1");
    expect(root.namespaceURI).toBe("http://www.topografix.com/GPX/1/1");
    expect(inOrder(names(root), ["metadata", "wpt", "rte", "trk", "extensions"])).toBe(true);
    for (const point of elements(root, "wpt"))
      expect(
        inOrder(names(point), ["ele", "name", "cmt", "desc", "sym", "type", "extensions"]),
      ).toBe(true);
    for (const track of elements(root, "trk"))
      expect(inOrder(names(track), ["name", "cmt", "desc", "type", "extensions", "trkseg"])).toBe(
        true,
      );
    for (const point of [...elements(root, "wpt"), ...elements(root, "trkpt")]) {
      expect(Math.abs(Number(point.getAttribute("lat")))).toBeLessThanOrEqual(90);
      expect(Math.abs(Number(point.getAttribute("lon")))).toBeLessThan(180);
    }
  });
});

describe("DXF", () => {
  it("has handles once each, owners that are there, and layers that are declared", async () => {
    const { input } = await write("dxf");
    const lines = new TextDecoder().decode(input.bytes).split("\r\n");
    const groups: [number, string][] = [];
    for (let i = 0; i + 1 < lines.length; i += 2) groups.push([Number(lines[i]), lines[i + 1]!]);
    expect(groups.every(([code]) => Number.isInteger(code))).toBe(true);
    expect(groups.at(-1)).toEqual([0, "EOF"]);
    const handles = groups
      .filter(([code], i) => code === 105 || (code === 5 && groups[i - 1]![1] !== "$HANDSEED"))
      .map(([, value]) => value);
    expect(new Set(handles).size).toBe(handles.length);
    for (const [code, value] of groups)
      if (code === 330) expect(["0", ...handles]).toContain(value);
    const seed = groups[groups.findIndex(([, value]) => value === "$HANDSEED") + 1]![1];
    for (const handle of handles)
      expect(Number.parseInt(handle, 16)).toBeLessThan(Number.parseInt(seed, 16));
    const layers = groups.flatMap(([code, value], i) =>
      code === 100 && value === "AcDbLayerTableRecord" ? [groups[i + 1]![1]] : [],
    );
    for (const [code, value] of groups) if (code === 8) expect(layers).toContain(value);
    expect(lines.every((line) => line.length <= 2049 && /^[\x20-\x7e]*$/.test(line))).toBe(true);
    const pieces = groups.filter(([code]) => code === 1000).map(([, value]) => value.length);
    expect(Math.max(...pieces)).toBeLessThanOrEqual(255);
  });
});

it("the same plan makes the same bytes", async () => {
  for (const format of ["gpkg", "kmz", "shapefile", "dxf", "flatgeobuf"] as const) {
    const [a, b] = [await write(format), await write(format)];
    expect(Buffer.from(a.input.bytes).equals(Buffer.from(b.input.bytes)), format).toBe(true);
  }
});
