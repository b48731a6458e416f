import { bundle } from "./bundle.mjs";

/** Imports one TypeScript module of `src/` with all it needs, for scripts that run without a build. */
export async function loadSource(path) {
  const [{ code }] = await bundle(path, { write: false, codeSplitting: false });
  return import(`data:text/javascript;base64,${Buffer.from(code).toString("base64")}`);
}
