import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { fixture, layersOf, problemOf, textInput } from "./fixtures.ts";

const kml = (body: string, attributes = 'xmlns="http://www.opengis.net/kml/2.2"') =>
  textInput(
    "site.kml",
    `<?xml version="1.0"?><kml ${attributes}><Document>${body}</Document></kml>`,
  );
const ring = (text: string) => `<LinearRing><coordinates>${text}</coordinates></LinearRing>`;
const OUTER = "0,0 4,0 4,4 0,4 0,0";
const INNER = "1,1 1,2 2,2 2,1 1,1";

describe("KML 2.2 (OGC 07-147r2)", () => {
  it("reads every feature of GDAL's geometry sample (ogrinfo 3.6.2 counts 25)", async () => {
    const { layers } = await layersOf(fixture("geometries.kml"));
    expect(layers.map(({ featuresInFile }) => featuresInFile)).toEqual([25]);
  });

  it("names layers by folder path, one a folder", async () => {
    const { layers } = await layersOf(fixture("placemark_in_root_and_subfolder.kml"));
    expect(layers.map(({ layer }) => layer)).toEqual(["TopLevel", "SubFolder1"]);
    expect(layers.map(({ features }) => features.length)).toEqual([1, 1]);
  });

  it("joins the names of nested folders", async () => {
    const point = "<Placemark><Point><coordinates>1,2</coordinates></Point></Placemark>";
    const inner = `<Folder><name>Beds</name>${point}</Folder>`;
    const { layers } = await layersOf(kml(`<Folder><name>Garden</name>${inner}</Folder>${point}`));
    expect(layers.map(({ layer }) => layer)).toEqual(["site", "Garden/Beds"]);
  });

  it("reads ExtendedData of both kinds", async () => {
    const data = await layersOf(fixture("extended_data.kml"));
    expect(data.layers[0]?.features[0]?.properties).toMatchObject({ foo: "bar" });
    const { layers } = await layersOf(fixture("simpledata.kml"));
    expect(layers[0]?.features.map(({ properties }) => properties.TrailLength)).toEqual([
      "3.14159",
      "347.45",
    ]);
  });

  it("reads prefixed elements and tabs between coordinates", async () => {
    const prefixed = await layersOf(fixture("placemark_with_kml_prefix.kml"));
    expect(prefixed.layers[0]?.features[0]?.geometry?.type).toBe("Point");
    const tabs = await layersOf(fixture("tab_separated_coord_triplet.kml"));
    expect(tabs.layers[0]?.features[0]?.geometry).not.toBeNull();
  });

  it("takes the outer boundary for the shell, whatever the order", async () => {
    const { layers } = await layersOf(
      kml(
        `<Placemark><Polygon><innerBoundaryIs>${ring(INNER)}</innerBoundaryIs><outerBoundaryIs>${ring(OUTER)}</outerBoundaryIs></Polygon></Placemark>`,
      ),
    );
    const geometry = layers[0]?.features[0]?.geometry;
    expect(geometry?.type === "Polygon" && geometry.coordinates[0]?.[1]).toEqual([4, 0]);
    expect(geometry?.type === "Polygon" && geometry.coordinates).toHaveLength(2);
  });

  it("makes a multipolygon of a MultiGeometry of polygons, nested ones too", async () => {
    const one = (text: string) =>
      `<Polygon><outerBoundaryIs>${ring(text)}</outerBoundaryIs></Polygon>`;
    const body = `<MultiGeometry>${one(OUTER)}<MultiGeometry>${one(INNER)}</MultiGeometry></MultiGeometry>`;
    const { layers, codes } = await layersOf(kml(`<Placemark>${body}</Placemark>`));
    expect(layers[0]?.features[0]?.geometry).toMatchObject({ type: "MultiPolygon" });
    expect(codes).toEqual([]);
  });

  it("loses no line of a Placemark that has lines beside its MultiGeometry", async () => {
    const { layers } = await layersOf(fixture("multigeometry_sibling.kml"));
    const geometry = layers[0]?.features[0]?.geometry;
    // The file has 23 <LineString> elements in one Placemark.
    expect(geometry?.type === "MultiLineString" && geometry.coordinates.length).toBe(23);
  });

  it("reads a ring on its own as a closed line, and spaces beside commas", async () => {
    const { layers } = await layersOf(kml(`<Placemark>${ring("0, 0 4 ,0 4,4 0,0")}</Placemark>`));
    expect(layers[0]?.features[0]?.geometry).toEqual({
      type: "LineString",
      coordinates: [
        [0, 0],
        [4, 0],
        [4, 4],
        [0, 0],
      ],
    });
  });

  it("keeps a placemark without geometry as a feature, with a finding", async () => {
    const point = "<Point><coordinates>1,2,3</coordinates></Point>";
    const { layers, codes } = await layersOf(
      kml(`<Placemark><name>Gate</name></Placemark><Placemark>${point}</Placemark>`),
    );
    expect(layers[0]?.features[0]).toMatchObject({ geometry: null, properties: { name: "Gate" } });
    expect(layers[0]?.features[1]?.geometry).toMatchObject({ coordinates: [1, 2, 3] });
    expect(codes).toEqual(["GEOMETRY_MISSING"]);
  });

  it("says what it does not read", async () => {
    const point = "<Placemark><Point><coordinates>1,2</coordinates></Point></Placemark>";
    const { findings } = await layersOf(kml(`<NetworkLink/><GroundOverlay/>${point}`));
    expect(findings.map(({ code }) => code)).toEqual([
      "KML_ELEMENT_NOT_READ",
      "KML_ELEMENT_NOT_READ",
    ]);
  });

  it("reads a KMZ", async () => {
    const { bytes } = fixture("extended_data.kml");
    const kmz = zipSync({ "doc.kml": bytes, "files/icon.png": strToU8("x") });
    const { layers } = await layersOf({ name: "site.kmz", bytes: kmz });
    expect(layers[0]).toMatchObject({ format: "kml", crs: { kind: "wgs84", from: "KML" } });
  });
});

describe("bad KML", () => {
  it.each([
    ["NOT_XML", "lawn"],
    ["XML_BROKEN", "<kml><Document><Placemark></kml>"],
    ["NOT_KML", '<gpx version="1.1"><wpt lat="1" lon="2"/></gpx>'],
    ["KML_NO_PLACEMARKS", "<kml><Document><name>View</name></Document></kml>"],
    ["FILE_IS_WEB_PAGE", "<html><body>no</body></html>"],
    [
      "XML_DOCTYPE",
      '<?xml version="1.0"?><!DOCTYPE kml [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><kml>&b;</kml>',
    ],
    [
      "COORDINATE_NOT_A_NUMBER",
      "<kml><Placemark><Point><coordinates>a,b</coordinates></Point></Placemark></kml>",
    ],
  ])("%s", async (code, text) => {
    const problem = await problemOf(textInput("site.kml", text));
    expect(problem).toMatchObject({ code, kind: "input", file: "site.kml" });
    expect(problem.remedy.length).toBeGreaterThan(10);
  });

  it("says that a truncated file is cut short", async () => {
    const problem = await problemOf(fixture("truncated.kml"));
    expect(problem.code).toBe("XML_BROKEN");
    expect(problem.message).toContain("cut short");
  });

  it("allows a document type inside a description", async () => {
    const text = "<![CDATA[<!DOCTYPE html><p>Lawn</p>]]>";
    const { layers } = await layersOf(
      kml(
        `<Placemark><description>${text}</description><Point><coordinates>1,2</coordinates></Point></Placemark>`,
      ),
    );
    expect(layers[0]?.features).toHaveLength(1);
  });
});
