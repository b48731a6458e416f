import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { emptyFolder } from "./run.ts";

const LAWN = JSON.stringify({
  type: "Feature",
  properties: { role: "lawn" },
  geometry: {
    type: "Polygon",
    coordinates: [
      [
        [-28.5, 47.25],
        [-28.49973, 47.25],
        [-28.49973, 47.25014],
        [-28.5, 47.25014],
        [-28.5, 47.25],
      ],
    ],
  },
});

/** A new folder with `lawn.geojson` in it, 20 m × 15 m, planned in no time. */
export async function siteFolder(): Promise<string> {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "lawn.geojson"), LAWN);
  return cwd;
}

/** Arguments that plan it. */
export const planLawn = (profile: string, out: string) => [
  "plan",
  "lawn.geojson",
  "--out",
  out,
  "--profile",
  profile,
  "--quiet",
];

/** What `pegline plan` writes where nothing more is asked for, as a folder lists it. */
export const RESULT_FILES = [
  "guide.txt",
  "materials.csv",
  "pegs.csv",
  "plan.geojson",
  "plan.html",
  "summary.json",
];
