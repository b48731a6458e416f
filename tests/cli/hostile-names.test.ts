import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { HOSTILE } from "../escape/hostile.ts";
import { emptyFolder, pegline } from "./run.ts";

/** What a terminal obeys, and what turns or hides text; line ends are ours. */
const OBEYED = /(?!\n)\p{Cc}|[\u202a-\u202e\u2066-\u2069\u2028\u2029\u200b\u2060\ufeff]/u;

/** A lawn with a bed for every hostile text, which is its name, its field and a value. */
function garden(): string {
  const square = (lon: number, lat: number, side: number) => [
    [lon, lat],
    [lon + side, lat],
    [lon + side, lat + side],
    [lon, lat + side],
    [lon, lat],
  ];
  const feature = (properties: object, ring: number[][]) => ({
    type: "Feature",
    properties,
    geometry: { type: "Polygon", coordinates: [ring] },
  });
  const beds = HOSTILE.map((text, i) =>
    feature(
      { name: text, role: i % 3 === 0 ? text : "bed", [`${text} `]: text },
      square(-28.5 + 0.0001 * (1 + (i % 9)), 47.25 + 0.0001 * (1 + Math.floor(i / 9)), 0.00002),
    ),
  );
  const lawn = feature({ name: HOSTILE.join(""), role: "lawn" }, square(-28.5, 47.25, 0.001));
  return JSON.stringify({ type: "FeatureCollection", features: [lawn, ...beds] });
}

it("hostile names reach the screen, the data and a site file as text that does nothing", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "garden.geojson"), garden());
  const runs = [
    ["inspect", "garden.geojson"],
    ["inspect", "garden.geojson", "--json"],
    ["init", "garden.geojson", "--out", "site.jsonc"],
    ["plan", "site.jsonc", "--out", "r"],
    ["plan", "garden.geojson", "--json", "--out", "r", "--lists", "all"],
    ["plan", "\u001b[2J\u202e.geojson"],
    ["plan", "garden.geojson", "--role", "\u001b]0;x\u0007=lawm"],
    ["plan", "garden.geojson", "--profile", "\u009b2J"],
    ["plan", "garden.geojson", "--out", "\u001b[31m/../garden.geojson"],
    ["\u001b[2J"],
    ["plan", "--\u001b[2J"],
  ];
  for (const args of runs) {
    const ran = await pegline(args, { cwd });
    expect(ran.code, JSON.stringify(args)).not.toBe(4);
    expect(ran.stdout.length + ran.stderr.length).toBeGreaterThan(20);
    expect(ran.stdout).not.toMatch(OBEYED);
    expect(ran.stderr).not.toMatch(OBEYED);
    const longest = Math.max(...ran.stderr.split("\n").map((line) => line.length));
    expect(longest).toBeLessThan(1200);
  }
  for (const name of ["site.jsonc", "r/plan.geojson", "r/summary.json", "r/guide.txt"])
    expect(await readFile(join(cwd, name), "utf8")).not.toMatch(OBEYED);
});
