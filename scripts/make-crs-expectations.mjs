// Writes tests/fixtures/crs/systems.json: what PROJ makes of points in 200 projected systems, drawn
// by a seeded draw from each method in the register. Needs cs2cs and projinfo (made with PROJ 9.1.1).
//
//     node scripts/make-crs-expectations.mjs
//
// For each point: WGS 84 → system (x, y), then back: x, y → degrees on the system's own datum, from
// Greenwich, and x, y → WGS 84, both at height 0 on the own ellipsoid. x is the easting wherever the
// dataset has northing first; south- and west-pointing axes stand as the dataset has them.
import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";

const all = JSON.parse(readFileSync("node_modules/epsg-index/all.json", "utf8"));

/** How many systems to draw by the method's name in the register's WKT; units in feet apart. */
const QUOTAS = {
  feet: 30,
  utm: 12,
  Transverse_Mercator: 36,
  "Transverse_Mercator south": 6,
  Lambert_Conformal_Conic_1SP: 24,
  Lambert_Conformal_Conic_2SP: 29,
  Albers_Conic_Equal_Area: 14,
  Hotine_Oblique_Mercator: 8,
  Hotine_Oblique_Mercator_Azimuth_Center: 3,
  somerc: 3,
  Oblique_Stereographic: 8,
  Polar_Stereographic: 10,
  Krovak: 5,
  Cassini_Soldner: 5,
  Lambert_Azimuthal_Equal_Area: 2,
  Mercator_1SP: 2,
  Polyconic: 2,
  New_Zealand_Map_Grid: 1,
};

let seed = 20_031_117;
function random() {
  seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
  return seed / 2 ** 32;
}

function run(program, args, input) {
  return execFileSync(program, args, {
    input,
    encoding: "utf8",
    stdio: ["pipe", "pipe", "ignore"],
  });
}

function methodOf({ proj4, wkt }) {
  const units = /\+units=(us-ft|ft|ind-yd|link|yd)|\+to_meter=0\.(3|2)/.test(proj4);
  if (units) return "feet";
  const method = /PROJECTION\["([^"]+)"/.exec(wkt ?? "")?.[1] ?? "";
  if (/\+proj=somerc/.test(proj4)) return "somerc";
  if (/\+proj=utm/.test(proj4)) return "utm";
  if (/\+proj=tmerc \+axis=/.test(proj4)) return "Transverse_Mercator south";
  if (/\+proj=krovak/.test(proj4)) return "Krovak";
  if (/\+proj=nzmg/.test(proj4)) return "New_Zealand_Map_Grid";
  if (/\+proj=stere /.test(proj4)) return "Polar_Stereographic";
  if (/\+proj=sterea/.test(proj4)) return "Oblique_Stereographic";
  if (/\+proj=cass/.test(proj4)) return "Cassini_Soldner";
  if (/\+proj=laea/.test(proj4)) return "Lambert_Azimuthal_Equal_Area";
  if (/\+proj=merc/.test(proj4)) return "Mercator_1SP";
  if (/\+proj=aea/.test(proj4)) return "Albers_Conic_Equal_Area";
  if (/\+proj=eqdc/.test(proj4)) return "Equidistant_Conic";
  if (/\+proj=aeqd/.test(proj4)) return "Azimuthal_Equidistant";
  if (/\+proj=poly/.test(proj4)) return "Polyconic";
  return method;
}

/** The system as PROJ has it: order of axes, base system; undefined where PROJ has none. */
function describe(code) {
  let wkt;
  try {
    wkt = run("projinfo", [`EPSG:${code}`, "-o", "WKT2:2019", "--single-line", "-q"]);
  } catch {
    return undefined;
  }
  const base = /BASEGEOG(?:CRS|)\[.*?ID\["EPSG",(\d+)\]\]/.exec(wkt);
  const ids = [
    ...(/BASEGEOGCRS\[(.*?)\],CONVERSION/.exec(wkt)?.[1] ?? "").matchAll(/ID\["EPSG",(\d+)\]/g),
  ];
  const axis = /AXIS\["([^"]*)",(\w+)/.exec(wkt) ?? [];
  const isNorthFirst = /^(northing|\(N\))/.test(axis[1] ?? "");
  return { base: base && ids.at(-1) ? ids.at(-1)[1] : undefined, isNorthFirst };
}

function baseUnits(base) {
  const wkt = run("projinfo", [`EPSG:${base}`, "-o", "WKT2:2019", "--single-line", "-q"]);
  const unit = Number(/ANGLEUNIT\["[^"]*",([\d.eE-]+)/.exec(wkt.slice(wkt.indexOf("CS[")))?.[1]);
  const meridian = /PRIMEM\["[^"]*",([-\d.]+),ANGLEUNIT\["[^"]*",([\d.eE-]+)/.exec(wkt);
  const degrees = 180 / Math.PI;
  return {
    perUnit: unit * degrees,
    greenwich: meridian ? Number(meridian[1]) * Number(meridian[2]) * degrees : 0,
  };
}

function transform(from, to, rows, decimals) {
  const input = rows.map((row) => row.join(" ")).join("\n");
  return run("cs2cs", ["-f", `%.${decimals}f`, from, to], input)
    .trim()
    .split("\n")
    .map((line) => line.trim().split(/\s+/).slice(0, 2).map(Number));
}

function pointsIn([north, west, south, east]) {
  // Away from the rim of the area, where another area's transformation may hold.
  const points = [];
  const [width, height] = [east - west, north - south];
  for (const [u, v] of [
    [0.5, 0.5],
    [0.2, 0.3],
    [0.8, 0.25],
    [0.3, 0.8],
    [0.75, 0.7],
  ]) {
    points.push([south + v * height, west + u * width].map((value) => Number(value.toFixed(5))));
  }
  return points;
}

function expectation(record) {
  const known = describe(record.code);
  if (known?.base === undefined || !record.bbox || record.bbox[1] > record.bbox[3])
    return undefined;
  const { perUnit, greenwich } = baseUnits(known.base);
  const name = `EPSG:${record.code}`;
  const latLon = pointsIn(record.bbox);
  const xy = transform("EPSG:4326", name, latLon, 6);
  const isSound = (rows) => rows.length === latLon.length && rows.flat().every(Number.isFinite);
  if (!isSound(xy)) return undefined;
  const own = transform(name, `EPSG:${known.base}`, xy, 13);
  const wgs84 = transform(name, "EPSG:4326", xy, 13);
  if (!isSound(own) || !isSound(wgs84)) return undefined;
  const round = (value) => Number(value.toFixed(12));
  return {
    epsg: Number(record.code),
    name: record.name,
    points: xy.map((pair, i) => [
      ...(known.isNorthFirst ? [pair[1], pair[0]] : pair),
      round(own[i][1] * perUnit + greenwich),
      round(own[i][0] * perUnit),
      round(wgs84[i][1]),
      round(wgs84[i][0]),
    ]),
  };
}

const byMethod = new Map();
for (const record of Object.values(all)) {
  if (record.kind !== "CRS-PROJCRS" || record.proj4 === null) continue;
  const method = methodOf(record);
  byMethod.set(method, [...(byMethod.get(method) ?? []), record]);
}
const systems = [];
for (const [method, quota] of Object.entries(QUOTAS)) {
  const pool = byMethod.get(method) ?? [];
  let drawn = 0;
  while (drawn < quota && pool.length > 0) {
    const [record] = pool.splice(Math.floor(random() * pool.length), 1);
    const one = expectation(record);
    if (one === undefined) continue;
    systems.push({ method, ...one });
    drawn++;
  }
  console.error(`${method}: ${drawn} of ${quota}`);
}
systems.sort((a, b) => a.epsg - b.epsg);
const version =
  run("projinfo", ["EPSG:4326", "-o", "PROJ", "-q"]) && "PROJ 9.1.1, EPSG dataset v10.076";
mkdirSync("tests/fixtures/crs", { recursive: true });
const rows = systems.map((one) => JSON.stringify(one)).join(",\n");
writeFileSync(
  "tests/fixtures/crs/systems.json",
  `{"madeWith": ${JSON.stringify(version)},\n"columns": ["x", "y", "ownLon", "ownLat", "lon", "lat"],\n"systems": [\n${rows}\n]}\n`,
);
console.error(`${systems.length} systems`);
