// Builds dist/: the command line (bundled, split so that commands load on demand), the library
// (dependencies left to the package manager) and its types.
import { execFileSync } from "node:child_process";
import { chmod, copyFile, readFile, rm, writeFile } from "node:fs/promises";
import { build } from "esbuild";

const { dependencies } = JSON.parse(await readFile("package.json", "utf8"));

// The first two find data beside themselves (WebAssembly, the registry), the third its own modules
// by a require() that cannot be followed, so they are never bundled.
const NEVER_BUNDLED = ["clipper2-wasm", "epsg-index", "jsonc-parser"];

const shared = {
  bundle: true,
  format: "esm",
  target: "node20",
  sourcemap: "linked",
  sourcesContent: false,
  logLevel: "warning",
};
const withPaths = (names) => names.flatMap((name) => [name, `${name}/*`]);

await rm("dist", { recursive: true, force: true });
await Promise.all([
  build({
    ...shared,
    platform: "node",
    entryPoints: { pegline: "cli/pegline.ts" },
    outdir: "dist/cli",
    splitting: true,
    chunkNames: "chunks/[name]-[hash]",
    external: withPaths(NEVER_BUNDLED),
    // Bundled CommonJS packages may ask for Node's own modules by require().
    banner: {
      js: 'import { createRequire as createRequireOfNode } from "node:module"; const require = createRequireOfNode(import.meta.url);',
    },
  }),
  build({
    ...shared,
    platform: "neutral",
    entryPoints: { index: "src/index.ts" },
    outdir: "dist",
    external: withPaths(Object.keys(dependencies)),
  }),
]);
await chmod("dist/cli/pegline.js", 0o755);
execFileSync(process.execPath, ["node_modules/typescript/bin/tsc", "-p", "tsconfig.types.json"], {
  stdio: "inherit",
});

// The compiler leaves hand-written declarations out of its output; the engine's types need this one.
const declaration = "src/geometry/clipper2-wasm.d.ts";
await copyFile(declaration, `dist/types/${declaration}`);
const entry = "dist/types/src/index.d.ts";
const reference = '/// <reference path="./geometry/clipper2-wasm.d.ts" />\n';
await writeFile(entry, reference + (await readFile(entry, "utf8")));
