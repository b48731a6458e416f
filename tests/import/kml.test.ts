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
    const lengths = layers[0]?.features.map(({ properties }) => properties.TrailLength);
    expect(lengths?.every((length) => typeof length === "number")).toBe(true);
    expect(lengths?.map(String)).toEqual(["3.14159", "347.45"]);
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
    expect(findings.map(({ code }) => code)).toEqual(["KML_NETWORK_LINK", "KML_ELEMENT_NOT_READ"]);
  });

  it("keeps styles as attributes: its own, a shared one, and one by way of a style map", async () => {
    const shared = `<Style id="s"><LineStyle><color>ff0000ff</color><width>3</width></LineStyle><IconStyle><Icon><href>a.png</href></Icon></IconStyle></Style>
      <StyleMap id="m"><Pair><key>highlight</key><styleUrl>#x</styleUrl></Pair><Pair><key>normal</key><styleUrl>#s</styleUrl></Pair></StyleMap>`;
    const own = "<Style><PolyStyle><color>8000ff00</color></PolyStyle></Style>";
    const { layers } = await layersOf(
      kml(
        `${shared}<Placemark><styleUrl>#m</styleUrl>${own}<Point><coordinates>1,2</coordinates></Point></Placemark>`,
      ),
    );
    // KML colours are alpha, blue, green, red (OGC 12-007r2, 16.12).
    expect(layers[0]?.features[0]?.properties).toMatchObject({
      styleUrl: "#m",
      stroke: "#ff0000",
      "stroke-width": 3,
      fill: "#00ff00",
      icon: "a.png",
    });
  });

  it("reads style maps that point at one another in a circle", async () => {
    const map = (id: string, to: string) =>
      `<StyleMap id="${id}"><Pair><key>normal</key><styleUrl>#${to}</styleUrl></Pair></StyleMap>`;
    const { layers } = await layersOf(
      kml(
        `${map("a", "b")}${map("b", "a")}<Placemark><styleUrl>#a</styleUrl><Point><coordinates>1,2</coordinates></Point></Placemark>`,
      ),
    );
    expect(layers[0]?.features[0]?.properties.styleUrl).toBe("#a");
  });

  it("keeps altitudes, their mode, and tracks with times; a MultiTrack is one MultiLineString", async () => {
    const track = (y: number) =>
      `<gx:Track><when>2020-01-01T00:00:00Z</when><when>2020-01-01T00:00:01Z</when><gx:coord>1 ${y} 3.5</gx:coord><gx:coord>2 ${y} 4.5</gx:coord></gx:Track>`;
    const { layers, codes } = await layersOf(
      kml(
        `<Placemark><gx:MultiTrack><altitudeMode>absolute</altitudeMode>${track(5)}${track(6)}</gx:MultiTrack></Placemark>`,
      ),
    );
    expect(codes).toEqual([]);
    expect(layers[0]?.features[0]).toMatchObject({
      geometry: {
        type: "MultiLineString",
        coordinates: [
          [
            [1, 5, 3.5],
            [2, 5, 4.5],
          ],
          [
            [1, 6, 3.5],
            [2, 6, 4.5],
          ],
        ],
      },
      properties: { altitudeMode: "absolute" },
    });
  });

  it("keeps two or three numbers of a position, and drops a height that is none", async () => {
    const { layers } = await layersOf(
      kml(
        "<Placemark><LineString><coordinates>1,2,3,4 5,6, 7,8,x</coordinates></LineString></Placemark>",
      ),
    );
    expect(layers[0]?.features[0]?.geometry).toMatchObject({
      coordinates: [
        [1, 2, 3],
        [5, 6, 7],
      ],
    });
  });

  it("keeps the attributes of a placemark without a shape", async () => {
    const data =
      '<ExtendedData><Data name="role"><value>bed</value></Data></ExtendedData><description>no shape</description>';
    const { layers } = await layersOf(
      kml(`<Placemark id="p1"><name>Bed</name>${data}</Placemark>`),
    );
    expect(layers[0]?.features[0]).toEqual({
      number: 1,
      id: "p1",
      geometry: null,
      properties: { name: "Bed", role: "bed", description: "no shape" },
    });
  });

  it("reads elements that a Schema names in place of Placemark (KML 2.0)", async () => {
    const { layers } = await layersOf(
      kml(
        '<Schema parent="Placemark" name="Bed"/><Bed><name>Roses</name><Point><coordinates>1,2</coordinates></Point></Bed>',
      ),
    );
    expect(layers[0]?.features[0]?.properties.name).toBe("Roses");
  });

  const pointAt = (name: string) =>
    `<Placemark><name>${name}</name><Point><coordinates>1,2</coordinates></Point></Placemark>`;
  const kmz = (files: Record<string, string>) => ({
    name: "site.kmz",
    bytes: zipSync(
      Object.fromEntries(Object.entries(files).map(([path, text]) => [path, strToU8(text)])),
    ),
  });
  const link = (href: string) => `<NetworkLink><Link><href>${href}</href></Link></NetworkLink>`;

  it("reads doc.kml of a KMZ and what it links to inside, and names the rest", async () => {
    const { layers, findings } = await layersOf(
      kmz({
        "stray.kml": `<kml>${pointAt("stray")}</kml>`,
        "doc.kml": `<kml><Document><name>Garden</name>${pointAt("main")}${link("files/beds.kml")}${link("https://example.org/x.kml")}</Document></kml>`,
        "files/beds.kml": `<kml><Folder><name>Round</name>${pointAt("bed")}${link("../doc.kml")}</Folder></kml>`,
      }),
    );
    expect(layers.map(({ layer, features }) => [layer, features[0]?.properties.name])).toEqual([
      ["Garden", "main"],
      ["beds/Round", "bed"],
    ]);
    expect(findings.map(({ code }) => code)).toEqual(["KML_NETWORK_LINK", "KMZ_FILE_NOT_READ"]);
    expect(findings[0]?.message).toContain("https://example.org/x.kml");
    expect(findings[1]?.message).toContain("stray.kml");
  });

  it("reads every KML of an archive without doc.kml", async () => {
    const { layers, codes } = await layersOf(
      kmz({
        "a.kml": `<kml><Document><Folder><name>Lawn</name>${pointAt("1")}</Folder></Document></kml>`,
        "b.kml": `<kml>${pointAt("2")}</kml>`,
      }),
    );
    expect(layers.map(({ layer }) => layer)).toEqual(["a/Lawn", "b"]);
    expect(codes).toEqual([]);
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
    ["NOT_KML", '<svg version="1.1"><rect/></svg>'],
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
