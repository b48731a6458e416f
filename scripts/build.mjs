// Builds dist/: the command line (bundled, split so that commands load on demand, with its code
// compiled for this version of Node) and the licences of what is in it, what every page (plan.html)
// consists of, the library (dependencies left to the package manager) and its types.
import { execFileSync } from "node:child_process";
import { chmod, copyFile, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { bundle, packages } from "./bundle.mjs";
import { compileAhead } from "./compile-ahead.mjs";
import { pageAssets } from "./page-assets.mjs";
import { thirdPartyNotices } from "./third-party-notices.mjs";

const { dependencies } = JSON.parse(await readFile("package.json", "utf8"));

// The first two find data beside themselves (WebAssembly, the registry), the third its own modules
// by a require() that cannot be followed. They are not bundled with the command.
const NEVER_BUNDLED = ["clipper2-wasm", "epsg-index", "jsonc-parser"];

const maps = { sourcemap: true, sourcemapExcludeSources: true };

// The command line is CommonJS: such modules may be compiled ahead (cli/code-cache.ts).
const commonJs = { ...maps, format: "cjs", external: packages(NEVER_BUNDLED), dir: "dist/cli" };
// Of the engine, too, the build that can be required.
const paths = { "clipper2-wasm/dist/es/clipper2z.js": "clipper2-wasm/dist/umd/clipper2z.js" };

await rm("dist", { recursive: true, force: true });
const [chunks] = await Promise.all([
  bundle(
    {
      main: "cli/main.ts",
      "plot-worker": "cli/plot-worker.ts",
      "open-worker": "cli/open-worker.ts",
    },
    { ...commonJs, paths, chunkFileNames: "chunks/[name]-[hash].js" },
  ),
  ...["pegline", "batch-worker"].map((name) =>
    bundle({ [name]: `cli/${name}.ts` }, { ...commonJs, codeSplitting: false }),
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
await writeFile("dist/cli/package.json", '{ "type": "commonjs" }\n');
await mkdir("dist/page", { recursive: true });
await writeFile("dist/page/assets.json", JSON.stringify(await pageAssets()));
await compileAhead("dist/cli");
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
