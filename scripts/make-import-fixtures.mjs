// Writes the invented GeoPackage, FlatGeobuf and shapefiles of tests/fixtures/import with GDAL's
// ogr2ogr (made with GDAL 3.6.2). The result is committed; run again only to change it.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const TARGET = "tests/fixtures/import";
const work = mkdtempSync(join(tmpdir(), "fixtures-"));

/** A CSV with WKT in its first column, as GDAL reads it. */
function csv(name, rows) {
  const path = join(work, `${name}.csv`);
  const lines = rows.map((row) => row.map((cell) => `"${cell}"`).join(","));
  writeFileSync(path, `${lines.join("\n")}\n`);
  return path;
}

function ogr2ogr(...args) {
  execFileSync("ogr2ogr", ["-oo", "AUTODETECT_TYPE=YES", "-oo", "KEEP_GEOM_COLUMNS=NO", ...args], {
    stdio: ["ignore", "inherit", "inherit"],
  });
}

// A garden on a slope in UTM zone 32N; heights in metres above the sea.
const lawns = csv("lawns", [
  ["WKT", "name", "role", "height_m", "grass"],
  [
    "POLYGON Z ((571600 5539100 101.5,571640 5539100 102,571640 5539125 104.25,571600 5539125 103.5,571600 5539100 101.5),(571610 5539110 102.5,571610 5539114 102.75,571616 5539114 103,571616 5539110 102.5,571610 5539110 102.5))",
    "Upper lawn",
    "lawn",
    "0.05",
    "1",
  ],
  ["", "No outline yet", "lawn", "", "0"],
  [
    "MULTIPOLYGON Z (((571650 5539100 99,571660 5539100 99,571660 5539110 99.5,571650 5539100 99)),((571670 5539100 99,571680 5539100 99,571680 5539110 99.5,571670 5539100 99)))",
    "Äpfelbaum strips",
    "lawn",
    "0.04",
    "1",
  ],
]);
const stakes = csv("stakes", [
  ["WKT", "code"],
  ["POINT ZM (571600 5539100 101.5 1)", "start"],
  ["POINT ZM (571640 5539100 102 2.5)", "corner"],
]);
const edges = csv("edges", [
  ["WKT", "edge"],
  ["LINESTRING (571600 5539100,571640 5539100)", "wall"],
  [
    "GEOMETRYCOLLECTION (POINT (571605 5539105),LINESTRING (571600 5539125,571640 5539125))",
    "hedge",
  ],
]);
const curves = csv("curves", [
  ["WKT", "name"],
  ["CURVEPOLYGON (CIRCULARSTRING (0 0,1 1,2 0,1 -1,0 0))", "Round bed"],
  ["POINT (1 0)", "Middle"],
]);
const prices = csv("prices", [
  ["item", "price"],
  ["wire", "0.5"],
]);

const gpkg = join(TARGET, "garden.gpkg");
rmSync(gpkg, { force: true });
const utm = ["-a_srs", "EPSG:25832"];
const plain = ["-lco", "SPATIAL_INDEX=NO"];
const add = (source, name, ...more) =>
  ogr2ogr("-f", "GPKG", "-update", "-append", gpkg, source, "-nln", name, ...more);
ogr2ogr("-f", "GPKG", gpkg, lawns, "-nln", "lawns", "-nlt", "GEOMETRYZ", ...utm, ...plain);
add(stakes, "stakes", "-nlt", "POINTZM", ...utm, ...plain);
add(edges, "edges", "-nlt", "GEOMETRY", "-a_srs", "EPSG:25832+5783", ...plain);
add(curves, "curves", "-nlt", "GEOMETRY", ...plain);
add(prices, "prices", "-nlt", "NONE");

const fgb = (name, source, type, ...more) =>
  ogr2ogr("-f", "FlatGeobuf", join(TARGET, name), source, "-nlt", type, ...utm, ...more);
fgb("lawns.fgb", lawns, "MULTIPOLYGONZ", "-nln", "lawns");
fgb("lawns-unindexed.fgb", lawns, "GEOMETRYZ", "-nln", "lawns", "-lco", "SPATIAL_INDEX=NO");
fgb("stakes.fgb", stakes, "POINTZM", "-nln", "stakes");

const shp = (name, source, type, ...more) =>
  ogr2ogr(
    "-f",
    "ESRI Shapefile",
    join(TARGET, `${name}.shp`),
    source,
    "-nlt",
    type,
    ...utm,
    ...more,
  );
shp("lawns-z", lawns, "POLYGONZ", "-lco", "ENCODING=UTF-8");
shp("stakes-zm", stakes, "POINTZM");

rmSync(work, { recursive: true });
