// Writes tests/fixtures/crs/dialects.json: definitions of a few systems of systems.json, one or two a
// method, as PROJ 9.1.1 writes them in each dialect of WKT and as PROJ strings. Needs projinfo.
//
//     node scripts/make-crs-dialects.mjs [how many a method]
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";

const EACH = Number(process.argv[2] ?? 2);
const DIALECTS = ["WKT1:GDAL", "WKT1:ESRI", "WKT2:2015", "WKT2:2019", "PROJ"];
const { systems } = JSON.parse(readFileSync("tests/fixtures/crs/systems.json", "utf8"));

function definition(code, dialect) {
  try {
    const args = [`EPSG:${code}`, "-o", dialect, "--single-line", "-q"];
    return execFileSync("projinfo", args, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] })
      .replace(/^Warning.*\n/gm, "")
      .trim();
  } catch {
    return "";
  }
}

const drawn = new Map();
const rows = [];
for (const { method, epsg } of systems) {
  const count = drawn.get(method) ?? 0;
  if (count >= EACH) continue;
  drawn.set(method, count + 1);
  const texts = DIALECTS.map((dialect) => [dialect, definition(epsg, dialect)]);
  rows.push({ epsg, ...Object.fromEntries(texts.filter(([, text]) => text !== "")) });
}
const file = process.argv[3] ?? "tests/fixtures/crs/dialects.json";
const lines = rows.map((row) => JSON.stringify(row)).join(",\n");
writeFileSync(file, `{"madeWith": "projinfo of PROJ 9.1.1",\n"systems": [\n${lines}\n]}\n`);
