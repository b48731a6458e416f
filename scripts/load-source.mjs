import { build } from "esbuild";

/** Imports one TypeScript module of `src/` with all it needs, for scripts that run without a build. */
export async function loadSource(path) {
  const bundled = await build({
    entryPoints: [path],
    bundle: true,
    format: "esm",
    platform: "node",
    write: false,
    logLevel: "silent",
  });
  const text = bundled.outputFiles[0].text;
  return import(`data:text/javascript;base64,${Buffer.from(text).toString("base64")}`);
}
