/** Definitions that are odd, cut short or about something else: each is told by what is wrong with it. */
import { describe, expect, it } from "vitest";
import type { EpsgRecord } from "../../src/crs/registry.ts";
import { resolveCrs } from "../../src/crs/resolve.ts";
import { wktToProj } from "../../src/crs/wkt-to-proj.ts";
import { parseWkt } from "../../src/crs/wkt-tree.ts";
import { wktOfProj } from "../../src/export/exchange/proj-to-wkt.ts";

const GEOGCS =
  'GEOGCS["g",DATUM["d",SPHEROID["s",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]';
const UTM = `PROJCS["p",${GEOGCS},PROJECTION["Transverse_Mercator"],PARAMETER["central_meridian",9],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],UNIT["metre",1]]`;

function registryOf(...records: Partial<EpsgRecord>[]) {
  const known = new Map(
    records.map((one) => [
      Number(one.code),
      { name: "made up", proj4: null, wkt: null, ...one } as EpsgRecord,
    ]),
  );
  return (code: number) => known.get(code);
}
const resolve = (record: Partial<EpsgRecord>) =>
  resolveCrs({ kind: "epsg", code: 9999, from: "test" }, registryOf({ code: "9999", ...record }));
const define = (text: string, ...records: Partial<EpsgRecord>[]) =>
  resolveCrs({ kind: "definition", text, from: "test" }, registryOf(...records));
const codeOf = (outcome: ReturnType<typeof define>) =>
  outcome.ok ? `read ${outcome.findings.map(({ code }) => code).join()}` : outcome.problem.code;

describe("records of the register without a PROJ string", () => {
  it("of a projection are told by its name, where the text has it", () => {
    const odd = UTM.replace("Transverse_Mercator", "Space_Oblique");
    for (const [wkt, words] of [
      [odd, "is in a projection that is not known here Space_Oblique"],
      [UTM, "is in a projection that is not known here"],
      ["nonsense", "is in a projection that is not known here"],
      [null, "is in a projection that is not known here"],
    ] as const) {
      const outcome = resolve({ kind: "CRS-PROJCRS", wkt });
      expect(codeOf(outcome)).toBe("CRS_METHOD_MISSING");
      if (!outcome.ok) expect(outcome.problem.message).toContain(words);
    }
  });

  it("of other kinds are taken from their text, where it has a horizontal part", () => {
    expect(codeOf(resolve({ kind: "CRS-GEOGCRS", wkt: GEOGCS }))).toMatch(/^read/);
    expect(resolve({ wkt: `COMPD_CS["c",${UTM},VERT_CS["v",VERT_DATUM["d",2005]]]` }).ok).toBe(
      true,
    );
    for (const wkt of [null, 'VERT_CS["v",VERT_DATUM["d",2005]]', "nonsense", 'GEOGCS["x"]']) {
      expect(codeOf(resolve({ wkt }))).toBe("CRS_NOT_FLAT");
    }
    expect(codeOf(resolve({ proj4: "+proj=geocent +datum=WGS84" }))).toBe("CRS_NOT_FLAT");
    const compound = { kind: "CRS-COMPOUNDCRS", proj4: "+proj=utm +zone=32 +datum=WGS84" };
    expect(codeOf(resolve(compound))).toContain("CRS_HORIZONTAL_PART");
  });

  it("grads of a geographic system are grads", () => {
    const record = { unit: "grad", proj4: "+proj=longlat +ellps=WGS84 +no_defs" };
    const outcome = resolve(record);
    if (!outcome.ok) throw new Error(outcome.problem.code);
    // 100 grads are 90 degrees.
    expect(outcome.value.toWgs84(100, 50)[0]).toBeCloseTo(90, 9);
    expect(outcome.value.toWgs84(100, 50)[1]).toBeCloseTo(45, 9);
  });
});

describe("definitions", () => {
  it.each([
    ["EPSG:9998", "CRS_UNKNOWN"],
    ["somewhere", "CRS_NOT_UNDERSTOOD"],
    ['LOCAL_CS["site",UNIT["metre",1]]', "CRS_LOCAL"],
    ['PROJCS["p",GEOGCS["g"],PROJECTION["Mercator"]]', "CRS_NOT_UNDERSTOOD"],
    [UTM.replace("Transverse_Mercator", "Odd"), "CRS_METHOD_MISSING"],
    [UTM.replace('PROJECTION["Transverse_Mercator"],', ""), "CRS_METHOD_MISSING"],
    [UTM, "read"],
    [`\ufeff  ${UTM}`, "read"],
  ])("%s", (text, code) => {
    expect(codeOf(define(text))).toContain(code);
  });

  it("are shown short, however long their names", () => {
    const outcome = define(
      UTM.replace('"p"', `"${"n".repeat(500)}"`).replace("Transverse_Mercator", "m".repeat(500)),
    );
    if (outcome.ok) throw new Error("was read");
    expect(outcome.problem.message.length).toBeLessThan(800);
    expect(outcome.problem.message).toContain("…");
    const unnamed = define(UTM.replace('PROJECTION["Transverse_Mercator"],', ""));
    if (!unnamed.ok) expect(unnamed.problem.message).toContain("(not named)");
  });

  it("with a code that the register has are the register's, without one their own", () => {
    const coded = UTM.replace(/\]$/, ',AUTHORITY["EPSG","9999"]]');
    const proj4 = "+proj=utm +zone=33 +datum=WGS84";
    const outcome = define(coded, { code: "9999", proj4 });
    expect(outcome.ok && outcome.value.epsg).toBe(9999);
    // Zone 33: the middle meridian is 15° E.
    if (outcome.ok) expect(outcome.value.toWgs84(500_000, 0)[0]).toBeCloseTo(15, 6);
    const own = define(coded);
    if (own.ok) expect(own.value.toWgs84(500_000, 0)[0]).toBeCloseTo(9, 6);
    expect(own.ok).toBe(true);
  });
});

describe("text as a tree", () => {
  it.each(["", "x", "[", "]", 'A["b"', "A]", "[1]", "A[[1]]", `${"A[".repeat(50)}`])(
    "%s is none",
    (text) => {
      expect(parseWkt(text)).toBeUndefined();
    },
  );

  it("may have round brackets, quotes in names, bare words", () => {
    expect(parseWkt('a("x""y",1.5,EAST)')).toEqual({
      keyword: "A",
      values: ['x"y', 1.5, "EAST"],
      nodes: [],
    });
  });
});

describe("figures, units and meridians", () => {
  const of = (text: string) => {
    const read = wktToProj(text);
    return read !== undefined && "definition" in read ? read.definition : read;
  };
  const geographic = (spheroid: string, more = "") =>
    `GEOGCS["g",DATUM["d",SPHEROID[${spheroid}]${more}],UNIT["degree",0.0174532925199433]]`;

  it("spheres, feet and shifts", () => {
    expect(of(geographic('"s",6371000,0'))).toBe("+proj=longlat +a=6371000 +b=6371000 +no_defs");
    expect(of(geographic('"s",6378137,298.25', ",TOWGS84[1,2,3]"))).toContain("+towgs84=1,2,3 ");
    expect(of(geographic('"s",6378137,298.25', ",TOWGS84[1,2]"))).not.toContain("towgs84");
    expect(of(geographic('"s",20925604,298.25,UNIT["foot",0.3048]'))).toContain(
      `+a=${20925604 * 0.3048} `,
    );
    for (const broken of ['"s"', '"s",6378137', '"s",0,298', '"s",-1,298']) {
      expect(of(geographic(broken))).toBeUndefined();
    }
    expect(of('GEOGCS["g",DATUM["d"]]')).toBeUndefined();
  });

  it("meridians: degrees in WKT 1, Paris in grads where only they explain it, stated units first", () => {
    const at = (meridian: string, head = "GEOGCS") =>
      of(
        `${head}["g",DATUM["d",SPHEROID["s",6378137,298.25]],PRIMEM["m",${meridian}],UNIT["grad",0.015707963267949]]`,
      );
    expect(at("2.5969213")).toContain("+pm=2.33722917");
    expect(at("10")).toContain("+pm=10 ");
    expect(at("10", "GEOGCRS")).toContain("+pm=9 ");
    expect(at('10,UNIT["degree",0.0174532925199433]', "GEOGCRS")).toContain("+pm=10 ");
    expect(at("0")).not.toContain("+pm");
  });

  it("parameters without a number are none; axes that point west or south are said", () => {
    expect(of(UTM.replace(",0.9996", ""))).not.toContain("k_0");
    expect(
      of(UTM.replace('UNIT["metre",1]]', 'UNIT["metre",1],AXIS["x",SOUTH],AXIS["y",WEST]]')),
    ).toContain("+axis=swu");
    expect(
      of(UTM.replace('UNIT["metre",1]]', 'UNIT["metre",1],AXIS["x"],AXIS["y",WEST]]')),
    ).not.toContain("+axis");
    expect(of(UTM.replace(',UNIT["metre",1]]', "]"))).toContain("+units=m");
  });
});

describe("PROJ strings as WKT 1", () => {
  it.each([
    ["+proj=utm +zone=32 +datum=WGS84", 'PARAMETER["central_meridian",9]'],
    ["+proj=utm +zone=32 +south +datum=WGS84", 'PARAMETER["false_northing",10000000]'],
    ["+proj=lcc +lat_1=49 +lat_0=46 +lon_0=3 +datum=WGS84", 'PARAMETER["standard_parallel_2",49]'],
    ["+proj=laea +lat_0=52 +lon_0=10 +datum=WGS84", "Lambert_Azimuthal_Equal_Area"],
    [
      "+proj=tmerc +lon_0=9 +x_0=304.8 +to_meter=0.3048 +datum=WGS84",
      'PARAMETER["false_easting",1000]',
    ],
    ["+proj=laea +lat_0=9 +a=6371000 +b=6371000", 'SPHEROID["unknown",6371000,0]'],
    ["+proj=tmerc +lon_0=9 +ellps=bessel +towgs84=1,2,3", "TOWGS84[1,2,3,0,0,0,0]"],
    ["+proj=longlat +datum=WGS84", 'GEOGCS["WGS 84"'],
  ])("%s", (text, part) => {
    expect(wktOfProj(text, "x")).toContain(part);
  });

  it.each([
    "EPSG:25832",
    "+zone=32",
    "+proj=utm +datum=WGS84",
    "+proj=merc +lat_ts=41 +datum=WGS84",
    "+proj=poly +datum=WGS84",
    "+proj=lcc +lat_1=49 +k=0.999 +datum=WGS84",
    "+proj=tmerc +axis=swu +datum=WGS84",
  ])("%s has none here", (text) => {
    expect(wktOfProj(text, "x")).toBeUndefined();
  });
});
