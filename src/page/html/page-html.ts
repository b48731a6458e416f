/** One HTML file from the compiled page and the data that it shows. */
import { htmlAttribute, htmlText } from "../../escape/html.ts";
import { jsonInScript } from "../../escape/json.ts";
import type { Language } from "../../model/hand-over-options.ts";

/** What the build makes of `src/page/app` and `src/page/worker`. */
export interface PageAssets {
  /** The app, as a classic script. */
  readonly script: string;
  readonly style: string;
  /** `sha256-…` of each of them, as a content security policy has it. */
  readonly scriptHash: string;
  readonly styleHash: string;
  /** The planner's worker: a script, deflated, base64. Empty where it was not built. */
  readonly worker: string;
  /** Licences of what is in the scripts. */
  readonly notices: string;
}

export interface PageContent {
  readonly title: string;
  readonly language: Language;
  /** Said where scripts are not run. */
  readonly noScript: string;
  /** Values for the app, by the name that it asks for them. They may hold text of the inputs. */
  readonly data: Readonly<Record<string, unknown>>;
}

/** What an element of data is found by. */
export const dataId = (name: string) => `pegline-${name}`;

/**
 * The page as one file that needs no other. Nothing in it is fetched; the only scripts and styles
 * that run are those whose hashes its policy names, and the worker that they make.
 *
 * @param content its texts are escaped here; `data` as JSON that cannot end its element
 * @param served whether it is served by `pegline open` and may hear events from there
 */
export function pageHtml(
  assets: PageAssets,
  content: PageContent,
  served: "file" | "served" = "file",
): string {
  const { title, language, noScript, data } = content;
  const blocks = Object.entries(data).map(
    ([name, value]) =>
      `<script type="application/json" id="${htmlAttribute(dataId(name))}">${jsonInScript(value)}</script>`,
  );
  return `<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${htmlAttribute(policyOf(assets, served))}">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light dark">
<title>${htmlText(title)}</title>
<link rel="icon" href="data:,">
<style>${assets.style}</style>
</head>
<body>
<noscript>${htmlText(noScript)}</noscript>
<div id="app"></div>
${blocks.join("\n")}
<script type="text/plain" id="${dataId("worker")}">${assets.worker}</script>
<script type="text/plain" id="${dataId("notices")}">${inScript(assets.notices)}</script>
<script>${assets.script}</script>
</body>
</html>
`;
}

/**
 * Nothing from anywhere but the file itself: scripts and styles by their hashes, the planner's
 * WebAssembly, a worker and pictures made from what the file holds. A page that is served may ask
 * its own server as well.
 */
export function policyOf(
  { scriptHash, styleHash }: PageAssets,
  served: "file" | "served" = "file",
): string {
  return [
    "default-src 'none'",
    `script-src '${scriptHash}' 'wasm-unsafe-eval'`,
    `style-src '${styleHash}'`,
    "worker-src blob:",
    "img-src data: blob:",
    ...(served === "served" ? ["connect-src 'self'"] : []),
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
}

/** Our own text in a `script` element that is not run: nothing in it ends the element. */
const inScript = (text: string) => text.replace(/</g, "‹");
