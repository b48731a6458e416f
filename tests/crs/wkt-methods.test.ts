/**
 * Projections of WKT as PROJ strings: parameters that a text leaves out have the values that the
 * methods' definitions give them. Names of parameters: EPSG Guidance Note 7-2 and the OGC's WKT 1;
 * keys: PROJ's pages of its projections (from memory).
 */
import { describe, expect, it } from "vitest";
import { projectionString, WktParameters } from "../../src/crs/wkt-methods.ts";

const string = (method: string, values: Record<string, number> = {}) =>
  projectionString(method, new WktParameters(new Map(Object.entries(values))));

describe("parameters that are left out", () => {
  it.each([
    ["Transverse_Mercator", "+proj=tmerc +lat_0=0 +lon_0=0 +x_0=0 +y_0=0"],
    ["Lambert_Conformal_Conic", "+proj=lcc +lat_1=0 +lat_2=0 +lat_0=0 +lon_0=0 +x_0=0 +y_0=0"],
    ["Albers", "+proj=aea +lat_1=0 +lat_2=0 +lat_0=0 +lon_0=0 +x_0=0 +y_0=0"],
    ["Stereographic_North_Pole", "+proj=stere +lat_0=90 +k_0=1 +lon_0=0 +x_0=0 +y_0=0"],
    ["Mercator", "+proj=merc +k_0=1 +lon_0=0 +x_0=0 +y_0=0"],
    ["Cylindrical_Equal_Area", "+proj=cea +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0"],
    // Without an azimuth the oblique Mercator is the Swiss one.
    [
      "Hotine_Oblique_Mercator_Azimuth_Center",
      "+proj=somerc +lon_0=0 +lat_0=0 +k_0=1 +x_0=0 +y_0=0",
    ],
    [
      "Hotine_Oblique_Mercator",
      "+proj=omerc +lonc=0 +alpha=90 +gamma=90 +lat_0=0 +k_0=1 +x_0=0 +y_0=0 +no_uoff",
    ],
    // Prague: the S-JTSK grid's own figures (EPSG:5513).
    [
      "Krovak",
      "+proj=krovak +lat_0=49.5 +lon_0=24.8333333333333 +alpha=30.2881397527778 +k_0=0.9999 +x_0=0 +y_0=0",
    ],
  ])("%s", (method, expected) => {
    expect(string(method)).toBe(expected);
  });

  it("a second parallel is the first, the first the origin's latitude", () => {
    expect(string("Lambert_Conformal_Conic", { standardparallel1: 49 })).toContain(
      "+lat_1=49 +lat_2=49 +lat_0=0",
    );
    expect(string("Lambert_Conformal_Conic_1SP", { latitudeoforigin: 46.5 })).toContain(
      "+lat_1=46.5 +lat_2=46.5 +lat_0=46.5",
    );
    expect(
      string("Lambert_Conformal_Conic_2SP", { standardparallel1: 49, standardparallel2: 44 }),
    ).toContain("+lat_1=49 +lat_2=44");
  });
});

describe("parameters that are there", () => {
  it("polar stereographic: by a parallel, or by scale at the pole; south where it is south", () => {
    expect(string("Polar_Stereographic", { latitudeoforigin: 70, centralmeridian: -45 })).toBe(
      "+proj=stere +lat_0=90 +lat_ts=70 +lon_0=-45 +x_0=0 +y_0=0",
    );
    expect(string("Polar Stereographic (variant B)", { latitudeofstandardparallel: -71 })).toBe(
      "+proj=stere +lat_0=-90 +lat_ts=-71 +lon_0=0 +x_0=0 +y_0=0",
    );
    expect(
      string("Polar Stereographic (variant A)", {
        latitudeofnaturalorigin: 90,
        scalefactoratnaturalorigin: 0.994,
      }),
    ).toBe("+proj=stere +lat_0=90 +k_0=0.994 +lon_0=0 +x_0=0 +y_0=0");
    expect(string("Stereographic_South_Pole", { standardparallel1: -90 })).toContain(
      "+lat_0=-90 +k_0=1",
    );
  });

  it("Mercator: by scale or by parallel; that of web maps whatever the ellipsoid", () => {
    expect(string("Mercator_1SP", { scalefactor: 0.997 })).toContain("+k_0=0.997");
    expect(string("Mercator_2SP", { standardparallel1: 41 })).toContain("+lat_ts=41");
    expect(string("Popular Visualisation Pseudo Mercator")).toContain("+proj=merc");
  });

  it("oblique Mercator: about its centre or not, Swiss at 90°", () => {
    const swiss = { azimuth: 90, rectifiedgridangle: 90, latitudeofcenter: 46.95 };
    expect(string("Hotine_Oblique_Mercator_Azimuth_Center", swiss)).toMatch(/^\+proj=somerc/);
    expect(string("Hotine_Oblique_Mercator", swiss)).toMatch(/^\+proj=omerc .*\+no_uoff$/);
    for (const other of [{ azimuth: 53.3 }, { rectifiedgridangle: 53.1 }]) {
      expect(string("Oblique_Mercator", { ...swiss, ...other })).toMatch(/^\+proj=omerc/);
    }
    expect(
      string("Oblique_Mercator", { azimuth: 53, longitudeofcenter: 115, scalefactor: 0.99984 }),
    ).toBe("+proj=omerc +lonc=115 +alpha=53 +gamma=53 +lat_0=0 +k_0=0.99984 +x_0=0 +y_0=0");
  });

  it("Krovak: axes by the angle between grid and cone, or by the method's name", () => {
    expect(string("Krovak", { xyplanerotation: 90 })).not.toContain("+axis");
    expect(string("Krovak", { xyplanerotation: 0 })).toMatch(/ \+axis=swu$/);
    expect(string("Krovak (North Orientated)", { xyplanerotation: 0 })).not.toContain("+axis");
  });

  it("cylindrical equal area and the south orientated Mercator", () => {
    expect(
      string("Cylindrical_Equal_Area", {
        standardparallel1: 30,
        centralmeridian: 10,
        falseeasting: 5,
      }),
    ).toBe("+proj=cea +lat_ts=30 +lon_0=10 +x_0=5 +y_0=0");
    expect(string("Transverse Mercator (South Orientated)", { longitudeofnaturalorigin: 29 })).toBe(
      "+proj=tmerc +lat_0=0 +lon_0=29 +x_0=0 +y_0=0 +axis=wsu",
    );
  });

  it("methods that nobody knows here have none", () => {
    expect(string("Space Oblique Mercator")).toBeUndefined();
    expect(string("constructor")).toBeUndefined();
  });
});
