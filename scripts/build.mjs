// Builds dist/: the command line (bundled, split so that commands load on demand) with the licences
// of what is in it, the library (dependencies left to the package manager) and its types.
import { execFileSync } from "node:child_process";
import { chmod, copyFile, readFile, rm, writeFile } from "node:fs/promises";
import { bundle, packages } from "./bundle.mjs";
import { thirdPartyNotices } from "./third-party-notices.mjs";

const { dependencies } = JSON.parse(await readFile("package.json", "utf8"));

// The first two find data beside themselves (WebAssembly, the registry), the third its own modules
// by a require() that cannot be followed; the fourth is under the LGPL, whose users may put another
// version in its place. They are never bundled.
const NEVER_BUNDLED = ["clipper2-wasm", "epsg-index", "jsonc-parser", "geojson-validation"];

const maps = { sourcemap: true, sourcemapExcludeSources: true };

await rm("dist", { recursive: true, force: true });
const [chunks] = await Promise.all([
  bundle(
    { pegline: "cli/pegline.ts", "batch-worker": "cli/batch-worker.ts" },
    {
      ...maps,
      external: packages(NEVER_BUNDLED),
      dir: "dist/cli",
      chunkFileNames: "chunks/[name]-[hash].js",
    },
  ),
  bundle(
    { index: "src/index.ts" },
    {
      ...maps,
      platform: "neutral",
      external: packages(Object.keys(dependencies)),
      codeSplitting: false,
      file: "dist/index.js",
    },
  ),
]);
await chmod("dist/cli/pegline.js", 0o755);
await writeFile("dist/THIRD-PARTY-LICENCES.txt", await thirdPartyNotices(chunks));
execFileSync(process.execPath, ["node_modules/typescript/bin/tsc", "-p", "tsconfig.types.json"], {
  stdio: "inherit",
});

// The compiler leaves hand-written declarations out of its output; the engine's types need this one.
const declaration = "src/geometry/clipper2-wasm.d.ts";
await copyFile(declaration, `dist/types/${declaration}`);
const entry = "dist/types/src/index.d.ts";
const reference = '/// <reference path="./geometry/clipper2-wasm.d.ts" />\n';
await writeFile(entry, reference + (await readFile(entry, "utf8")));
