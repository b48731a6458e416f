// Reads a large GeoJSON and a large shapefile and compares wall time and memory with GDAL's ogr2ogr
// on the same files in the same run. `npm run bench:import [-- MEGABYTES]`; needs ogr2ogr. The aim:
// within 1.5 times its time, and within 6 times the file's size in memory.
//
// What is timed of ours is a fresh process that opens the file, reads it (readInputs) and, in the
// second figure, also puts it into the site grid (toSiteGrid). ogr2ogr reads, reprojects and writes.
import { execFileSync } from "node:child_process";
import {
  closeSync,
  mkdtempSync,
  openSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { ALL_PACKAGES, bundle } from "../../scripts/bundle.mjs";
import { seeded } from "./seeded.mjs";

const megabytes = Number(process.argv[2] ?? 100);
const RUNS = 3;
const work = mkdtempSync(join(tmpdir(), "import-bench-"));

/** Outlines of 20 to 200 vertices with a few attributes, spread over some 2 km, until the size is reached. */
function writeGeojson(path, bytes) {
  const random = seeded(20);
  const file = openSync(path, "w");
  let size = writeSync(file, '{"type":"FeatureCollection","features":[\n');
  let number = 0;
  while (size < bytes) {
    const [lon, lat] = [10 + random() * 0.02, 50 + random() * 0.02];
    const count = 20 + Math.floor(random() * 180);
    const ring = [];
    for (let i = 0; i < count; i++) {
      const angle = (2 * Math.PI * i) / count;
      const radius = 0.0001 * (0.7 + 0.3 * random());
      ring.push([
        Number((lon + radius * Math.cos(angle)).toFixed(8)),
        Number((lat + radius * Math.sin(angle)).toFixed(8)),
      ]);
    }
    ring.push(ring[0]);
    const feature = {
      type: "Feature",
      properties: {
        name: `bed ${number}`,
        role: "bed",
        height_m: Number((random() / 2).toFixed(2)),
      },
      geometry: { type: "Polygon", coordinates: [ring] },
    };
    size += writeSync(file, `${number++ === 0 ? "" : ",\n"}${JSON.stringify(feature)}`);
  }
  writeSync(file, "\n]}\n");
  closeSync(file);
  return number;
}

function run(command, args) {
  const before = process.hrtime.bigint();
  execFileSync("/usr/bin/time", ["-f", "%M", "-o", join(work, "memory"), command, ...args], {
    stdio: ["ignore", "inherit", "inherit"],
  });
  const seconds = Number(process.hrtime.bigint() - before) / 1e9;
  const kilobytes = Number(execFileSync("cat", [join(work, "memory")], { encoding: "utf8" }));
  return { seconds, megabytes: kilobytes / 1000 };
}

/** The fastest of a few runs, with the largest memory of them. */
function best(command, args, before = () => {}) {
  const runs = Array.from({ length: RUNS }, () => {
    before();
    return run(command, args);
  });
  return {
    seconds: Math.min(...runs.map((one) => one.seconds)),
    megabytes: Math.max(...runs.map((one) => one.megabytes)),
  };
}

async function buildReader() {
  const entry = join(work, "read.ts");
  const source = (name) => JSON.stringify(join(process.cwd(), name));
  writeFileSync(
    entry,
    `import { readFileSync, existsSync } from "node:fs";
     import { readInputs } from ${source("src/import/read-inputs.ts")};
     import { toSiteGrid } from ${source("src/crs/to-site-grid.ts")};
     import { epsgRegistry } from ${source("cli/epsg-registry.ts")};
     const [path, what] = process.argv.slice(2);
     const siblings = {};
     for (const ending of [".dbf", ".prj", ".cpg"]) {
       const side = path.replace(/\\.shp$/, ending);
       if (side !== path && existsSync(side)) siblings[ending] = readFileSync(side);
     }
     const outcome = await readInputs([{ name: path, bytes: readFileSync(path), siblings }]);
     if (!outcome.ok) throw new Error(outcome.problem.message);
     let layers = outcome.value;
     if (what === "grid") {
       const placed = toSiteGrid(layers, { registry: epsgRegistry });
       if (!placed.ok) throw new Error(placed.problem.message);
       layers = placed.value.layers;
     }
     const count = layers.reduce((sum, layer) => sum + layer.features.length, 0);
     if (count !== Number(process.argv[4])) throw new Error("read " + count + " features");`,
  );
  const outfile = join(process.cwd(), "node_modules/.cache/import-bench.mjs");
  await bundle(entry, { external: ALL_PACKAGES, codeSplitting: false, file: outfile });
  return outfile;
}

try {
  const geojson = join(work, "large.geojson");
  const features = writeGeojson(geojson, megabytes * 1e6);
  const shp = join(work, "large.shp");
  // More GeoJSON than asked for makes a shapefile of the size asked for.
  const wide = join(work, "wide.geojson");
  const shapes = writeGeojson(wide, megabytes * 1.72e6);
  execFileSync("ogr2ogr", ["-t_srs", "EPSG:25832", shp, wide]);
  const reader = await buildReader();
  const version = execFileSync("ogr2ogr", ["--version"], { encoding: "utf8" }).trim();
  console.log(
    `${version}; Node ${process.version}; ${cpus()[0].model}, ${cpus().length} cores; best of ${RUNS}`,
  );
  const out = join(work, "out");
  const rows = [];
  const cases = [
    {
      name: "GeoJSON",
      path: geojson,
      count: features,
      srs: "EPSG:25832",
      formats: ["GeoJSON", "FlatGeobuf"],
    },
    {
      name: "shapefile",
      path: shp,
      count: shapes,
      srs: "EPSG:4326",
      formats: ["ESRI Shapefile", "FlatGeobuf"],
    },
  ];
  for (const { name, path, count, srs, formats } of cases) {
    const size = statSync(path).size / 1e6;
    const clear = () => rmSync(out, { recursive: true, force: true });
    const theirs = formats.map((format) => ({
      format,
      ...best("ogr2ogr", ["-t_srs", srs, "-f", format, out, path], clear),
    }));
    for (const what of ["read", "grid"]) {
      const ours = best(process.execPath, [reader, path, what, String(count)]);
      for (const other of theirs) {
        rows.push({
          file: `${name} ${size.toFixed(0)} MB`,
          ours: what === "read" ? "read" : "read, to site grid",
          seconds: ours.seconds.toFixed(2),
          ogr2ogr_to: other.format,
          ogr2ogr_s: other.seconds.toFixed(2),
          time_ratio: (ours.seconds / other.seconds).toFixed(2),
          memory_MB: ours.megabytes.toFixed(0),
          memory_ratio: (ours.megabytes / size).toFixed(2),
          ogr2ogr_MB: other.megabytes.toFixed(0),
        });
      }
    }
  }
  console.table(rows);
} finally {
  rmSync(work, { recursive: true, force: true });
}
