// Writes what GDAL reads from a folder of test files into a compact JSON, for a test that needs no
// GDAL: node scripts/make-gdal-expectations.mjs OUT.json ROOT FOLDER…
//
// For each file: its layers in order, and for each layer its features in order as
// [type, positions, west, south, east, north, mean x, mean y, mean z], in the file's own coordinates
// with all digits; of layers with more than 40 features every k-th. Null where GDAL has no geometry.
import { execFileSync } from "node:child_process";
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";

const READABLE = /\.(geojson|json|kml|kmz|shp|zip|gpkg|fgb|gpx)$/i;
const FEATURES_MAX = 40;
const [out, root, ...folders] = process.argv.slice(2);
const work = mkdtempSync(join(tmpdir(), "expectations-"));

function* filesUnder(folder) {
  for (const name of readdirSync(folder).sort()) {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) yield* filesUnder(path);
    else if (READABLE.test(name)) yield path;
  }
}

// Heights of GPX points as such.
const env = { ...process.env, GPX_ELE_AS_25D: "YES" };

function run(command, args) {
  try {
    const options = {
      encoding: "utf8",
      maxBuffer: 2 ** 28,
      stdio: ["ignore", "pipe", "ignore"],
      env,
    };
    return execFileSync(command, args, options);
  } catch {
    return undefined;
  }
}

function positionsOf(geometry) {
  if (geometry.type === "GeometryCollection") return geometry.geometries.flatMap(positionsOf);
  const flat = [];
  const visit = (nested) => {
    if (typeof nested[0] === "number") flat.push(nested);
    else for (const part of nested) visit(part);
  };
  visit(geometry.coordinates);
  return flat;
}

/** A geometry in figures that do not depend on the order of its parts. */
function figures(geometry) {
  if (geometry === null) return null;
  const positions = positionsOf(geometry);
  if (positions.length === 0) return null;
  const mean = (index) =>
    positions.reduce((sum, position) => sum + (position[index] ?? 0), 0) / positions.length;
  const [xs, ys] = [positions.map(([x]) => x), positions.map(([, y]) => y)];
  const least = (values) => values.reduce((a, b) => Math.min(a, b));
  const most = (values) => values.reduce((a, b) => Math.max(a, b));
  const box = [least(xs), least(ys), most(xs), most(ys)];
  const means = [mean(0), mean(1), mean(2)];
  return [geometry.type, positions.length, ...box, ...means].map((value) =>
    typeof value === "number" && !Number.isFinite(value) ? String(value) : value,
  );
}

/** Layers that repeat others (points of lines, in GPX) or have no shapes (plain lists). */
function isBeside(path, name, type) {
  return path.endsWith(".gpx") ? /^(route|track)_points$/.test(name) : type === "None";
}

/** Names of the layers; undefined where GDAL does not open the file. */
function layersOf(path) {
  const listing = run("ogrinfo", ["-ro", "-so", "-al", path]);
  if (listing === undefined) return undefined;
  return [
    ...listing.matchAll(
      /^Layer name: ((?:.|\n(?!Metadata:|Geometry:))*)\n(?:Metadata:\n(?: {2}.*\n)*)?Geometry: (.*)$/gm,
    ),
  ]
    .filter(([, name, type]) => !isBeside(path, name, type))
    .map((match) => match[1]);
}

/** What to open: of a shapefile without its .shx a copy, for which GDAL makes one. */
function sourceOf(path) {
  if (path.endsWith(".zip")) return `/vsizip/${path}`;
  if (!path.endsWith(".shp") || existsSync(path.replace(/shp$/, "shx"))) return path;
  for (const ending of ["shp", "dbf", "prj", "cpg"]) {
    const side = path.replace(/shp$/, ending);
    if (existsSync(side)) {
      copyFileSync(side, join(work, basename(side)));
      chmodSync(join(work, basename(side)), 0o644);
    }
  }
  const copy = join(work, basename(path));
  run("ogrinfo", ["--config", "SHAPE_RESTORE_SHX", "YES", "-ro", copy]);
  return copy;
}

function readLayer(path, layer) {
  const target = join(work, "layer.geojson");
  rmSync(target, { force: true });
  // Neither RFC 7946's rewinding and reprojection nor rounding.
  const options = ["-lco", "RFC7946=NO", "-lco", "SIGNIFICANT_FIGURES=17", "-lco", "WRITE_BBOX=NO"];
  if (run("ogr2ogr", ["-f", "GeoJSON", ...options, target, path, layer]) === undefined) return null;
  const text = readFileSync(target, "utf8").replace(/(?<=[[,:]\s*)-?(nan|inf|1\.#IND)\b/gi, "null");
  const { features } = JSON.parse(text);
  const step = Math.ceil(features.length / FEATURES_MAX);
  return {
    name: layer,
    features: features.length,
    step,
    figures: features.filter((_, index) => index % step === 0).map((f) => figures(f.geometry)),
  };
}

const files = {};
for (const folder of folders) {
  for (const path of filesUnder(join(root, folder))) {
    const source = sourceOf(path);
    const layers = layersOf(source);
    files[path.slice(root.length + 1)] =
      layers === undefined ? null : layers.map((layer) => readLayer(source, layer));
  }
}
const version = run("ogr2ogr", ["--version"]).trim();
const lines = Object.entries(files).map(
  ([file, layers]) => `${JSON.stringify(file)}: ${JSON.stringify(layers)}`,
);
writeFileSync(
  out,
  `{"made_with": ${JSON.stringify(version)}, "files": {\n${lines.join(",\n")}\n}}\n`,
);
rmSync(work, { recursive: true });
