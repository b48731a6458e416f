import { describe, expect, it } from "vitest";
import { fixture, layersOf, problemOf, textInput } from "./fixtures.ts";

const gpx = (body: string) =>
  textInput(
    "walk.gpx",
    `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">${body}</gpx>`,
  );

describe("GPX 1.1 (topografix.com schema)", () => {
  it("reads waypoints, routes and tracks as layers, with heights, on WGS 84", async () => {
    const { layers, codes } = await layersOf(fixture("garden.gpx"));
    expect(layers.map(({ layer, featuresInFile }) => [layer, featuresInFile])).toEqual([
      ["waypoints", 1],
      ["routes", 1],
      ["tracks", 1],
    ]);
    expect(layers[0]?.features[0]).toMatchObject({
      geometry: { type: "Point", coordinates: [10, 50, 101.5] },
      properties: { name: "Station", desc: "by the wall", sym: "Flag" },
    });
    expect(layers[2]?.features[0]?.geometry).toMatchObject({
      type: "MultiLineString",
      coordinates: [
        [
          [10, 50, 100],
          [10, 50.001, 100.5],
          [10.001, 50.001],
        ],
        [
          [10, 51, 100],
          [10, 51.001, 100.5],
        ],
      ],
    });
    expect(codes).toEqual(["GPX_SEGMENT_SHORT"]);
    for (const { crs } of layers) expect(crs).toEqual({ kind: "wgs84", from: "GPX" });
  });

  it("does not take a point's name for its track's", async () => {
    const point = (lat: number) => `<trkpt lat="${lat}" lon="1"><name>p</name></trkpt>`;
    const { layers } = await layersOf(gpx(`<trk><trkseg>${point(1)}${point(2)}</trkseg></trk>`));
    expect(layers[0]?.features[0]?.properties).toEqual({});
  });

  it("understands prefixes", async () => {
    const text =
      '<g:gpx xmlns:g="http://www.topografix.com/GPX/1/1"><g:wpt lat="1" lon="2"><g:name>W</g:name></g:wpt></g:gpx>';
    const { layers } = await layersOf(textInput("w.gpx", text));
    expect(layers[0]?.features[0]?.properties).toEqual({ name: "W" });
  });

  it("keeps a track of one point as a feature without shape", async () => {
    const one = '<trk><name>Short</name><trkseg><trkpt lat="1" lon="2"/></trkseg></trk>';
    const { layers, codes } = await layersOf(gpx(one));
    expect(layers[0]?.features[0]).toEqual({
      number: 1,
      geometry: null,
      properties: { name: "Short" },
    });
    expect(codes.sort()).toEqual(["GEOMETRY_MISSING", "GPX_SEGMENT_SHORT"]);
  });

  it("leaves out a waypoint without a place", async () => {
    const { layers, findings } = await layersOf(gpx('<wpt lat="1"/><wpt lat="1" lon="2"/>'));
    expect(layers[0]?.features.map(({ number }) => number)).toEqual([2]);
    expect(findings[0]).toMatchObject({ code: "COORDINATE_NOT_A_NUMBER", feature: "#1" });
  });

  it.each([
    ["GPX_EMPTY", gpx("")],
    ["NOT_GPX", textInput("w.gpx", "<svg/>")],
    ["XML_DOCTYPE", textInput("w.gpx", '<!DOCTYPE gpx [<!ENTITY a "b">]><gpx><wpt/></gpx>')],
  ])("%s", async (code, input) => {
    expect((await problemOf(input)).code).toBe(code);
  });
});
