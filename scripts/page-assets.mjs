// Builds what every page consists of: its script, its style, the planner's worker; with the hashes
// by which the page's policy knows them, and the licences of what is in them.
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { deflateRawSync } from "node:zlib";
import { bundle } from "./bundle.mjs";
import { engineWithoutEval } from "./engine-without-eval.mjs";
import { thirdPartyNotices } from "./third-party-notices.mjs";

/** Styles in the order in which they stand in the page; later ones win. */
const STYLES = ["tokens", "frame", "panels", "parts", "print", "live", "compare", "import"];
const WORKER = "src/page/worker/worker.ts";
/** WebAssembly that the worker cannot load from beside itself. */
const ENGINE = "node_modules/clipper2-wasm/dist/es/clipper2z.wasm";

/** What is there for Node alone, behind questions that a browser answers with no. */
const FOR_NODE = [/^node:/, "module"];

/** A page has no place that modules could be found beside. */
const NOWHERE = { "import.meta.url": "undefined" };

const TARGET = { platform: "browser", write: false, codeSplitting: false, minify: true };

/** The assets as `PageAssets` (src/page/html/page-html.ts) has them. */
export async function pageAssets() {
  const app = await bundle({ app: "src/page/app/main.ts" }, { ...TARGET, format: "iife" });
  const worker = await bundle(
    { worker: WORKER },
    {
      ...TARGET,
      format: "iife",
      external: FOR_NODE,
      define: NOWHERE,
      plugins: [engineWithoutEval],
    },
  );
  const script = inScript(app.map((chunk) => chunk.code).join("\n"));
  const styles = await Promise.all(
    STYLES.map((name) => readFile(`src/page/app/style/${name}.css`, "utf8")),
  );
  const style = short(styles.join("\n"));
  const engine = (await readFile(ENGINE)).toString("base64");
  const workerCode = [
    `globalThis.PEGLINE_ENGINE=${JSON.stringify(engine)};`,
    ...worker.map((chunk) => chunk.code),
  ].join("\n");
  return {
    script,
    style,
    scriptHash: hash(script),
    styleHash: hash(style),
    worker: workerCode && deflateRawSync(workerCode, { level: 9 }).toString("base64"),
    notices: await thirdPartyNotices([...app, ...worker]),
  };
}

/** As CSP Level 3 has it, over the text between the tags. */
const hash = (text) => `sha256-${createHash("sha256").update(text).digest("base64")}`;

/** No text in a script ends its element or begins a comment in it (HTML Living Standard, 4.12.1.3). */
function inScript(code) {
  const safe = code.trim().replace(/<(?=!--|\/?script)/gi, "\\x3C");
  new Function(safe);
  return safe;
}

/** Without comments and the space that only people need. */
const short = (css) =>
  css
    .replace(/\/\*[\s\S]*?\*\//g, "")
    .replace(/\s+/g, " ")
    .replace(/ ?([{};,]) ?/g, "$1")
    .trim();
