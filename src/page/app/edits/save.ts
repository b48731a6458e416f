/** Saving what was changed: site file, plan, and the page itself. */
import { pageHtml } from "../../html/page-html.ts";
import type { PackedSource } from "../../worker/source.ts";
import type { App } from "../part.ts";
import { plannerOf } from "./planner.ts";

export async function saveFile(app: App, what: "site" | "plan.geojson" | "summary.json") {
  const planner = plannerOf(app);
  const { files, siteFile } = await planner.files();
  if (what === "site") {
    download(planner.source.siteFile.name, siteFile, "application/json");
    return;
  }
  const file = files.find(({ name }) => name === what);
  if (file) download(what, file.text, "application/json");
}

/** The page of the plan as it is now: it opens, plans and saves as this one does. */
export async function savePage(app: App): Promise<void> {
  const planner = plannerOf(app);
  const { model, siteFile } = await planner.files();
  const { words } = app.store.state;
  const { source } = planner;
  const job: PackedSource = { ...source, siteFile: { ...source.siteFile, text: siteFile } };
  const { picture, system } = app.data;
  const html = pageHtml(ownAssets(app), {
    title: words.t("page.title", { site: model.siteName }),
    language: words.language,
    noScript: words.t("page.noScript"),
    data: { model, job, ...(picture && { picture }), ...(system && { system }) },
  });
  download("plan.html", html, "text/html");
}

/** What this page consists of, taken from itself. */
function ownAssets(app: App) {
  const policy = document
    .querySelector("meta[http-equiv=Content-Security-Policy]")!
    .getAttribute("content")!;
  const hashOf = (name: string) => new RegExp(`${name} '(sha256-[^']+)'`).exec(policy)![1]!;
  const script = [...document.scripts].find((one) => one.type === "");
  return {
    script: script!.textContent!,
    style: document.querySelector("style")!.textContent!,
    scriptHash: hashOf("script-src"),
    styleHash: hashOf("style-src"),
    worker: app.text("worker"),
    notices: app.text("notices"),
  };
}

function download(name: string, text: string, type: string): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
