/** Files that the reader has brought, and how far they have come. */
import { shownText } from "../../../escape/hidden.ts";
import type { InputFile } from "../../../model/features.ts";
import type { Problem } from "../../../model/finding.ts";
import type { Role } from "../../../model/roles.ts";
import { sortedFiles } from "../../model/sorted-files.ts";
import type { FromWorker } from "../../worker/messages.ts";
import type { PackedSource } from "../../worker/source.ts";
import { compareFiles } from "../compare/state.ts";
import { canPlan, plannerOf } from "../edits/planner.ts";
import type { App } from "../part.ts";
import { createStore } from "../store.ts";
import { ImportWorker } from "./import-worker.ts";

export type Inspected = Extract<FromWorker, { type: "inspected" }>;

export interface ImportState {
  readonly files: readonly InputFile[];
  readonly leftOver: readonly string[];
  readonly step: "none" | "reading" | "asking" | "planning";
  readonly inspected: Inspected | undefined;
  /** Roles that the reader gives to layers, by name. */
  readonly roles: Readonly<Record<string, Role>>;
  readonly problem: Problem | undefined;
  /** Of ours. */
  readonly fault: string | undefined;
}

const NOTHING: ImportState = {
  files: [],
  leftOver: [],
  step: "none",
  inspected: undefined,
  roles: {},
  problem: undefined,
  fault: undefined,
};

export const importing = createStore<ImportState>(NOTHING);

/** All together; what is larger would make a page that opens nowhere. */
const BYTES_MAX = 50_000_000;

let worker: ImportWorker | undefined;

/** Puts everything away that was brought. */
export function putAway(): void {
  worker?.end();
  worker = undefined;
  importing.set(NOTHING);
}

/** Takes files: a plan is compared, a site is read. */
export async function takeFiles(app: App, given: readonly File[]): Promise<void> {
  if (given.length === 0) return;
  putAway();
  const size = given.reduce((sum, file) => sum + file.size, 0);
  if (size > BYTES_MAX) {
    app.open("import");
    return importing.set({ problem: tooLarge(size) });
  }
  const read = given.map(async (file) => ({
    name: file.name,
    bytes: new Uint8Array(await file.arrayBuffer()),
  }));
  const { plan, inputs, leftOver } = sortedFiles(await Promise.all(read));
  if (plan.length > 0) {
    app.open("compare");
    return compareFiles(app, plan);
  }
  app.open("import");
  importing.set({ files: inputs, leftOver, step: inputs.length > 0 ? "reading" : "none" });
  if (inputs.length === 0) return;
  const source = sourceOf(app);
  const answer = await ask(app, { type: "inspect", files: inputs, source });
  if (answer?.type === "inspected") importing.set({ step: "asking", inspected: answer });
}

/** Plans with the files that were brought. */
export async function planWith(app: App, how: "add" | "replace"): Promise<void> {
  const { files, roles } = importing.state;
  importing.set({ step: "planning", problem: undefined, fault: undefined });
  const answer = await ask(app, {
    type: "import",
    how,
    files,
    roles: Object.entries(roles).map(([layer, role]) => ({ layer, role })),
    source: sourceOf(app),
    machine: app.store.state.model.machine.name,
  });
  if (answer?.type !== "imported") return;
  const { picture } = app.data;
  const { model, source } = answer;
  app.select(undefined);
  // On the same grid what lay beneath lies there still.
  const isSameGrid = model.grid.origin.join() === app.data.model.grid.origin.join();
  const keepsPicture = how === "add" && isSameGrid && picture !== undefined;
  app.renew({ model, job: source, ...(keepsPicture && { picture }) });
  app.map.showAll(false);
  putAway();
  const { words } = app.store.state;
  const { wireM, pegs } = model.totals;
  app.announce(words.t("import.done", { wire: words.figure({ lengthM: wireM }), pegs }));
  app.open("plan");
}

/** What the page plans from now, with what was changed in it; undefined where it holds nothing. */
function sourceOf(app: App): PackedSource | undefined {
  if (!canPlan(app)) return undefined;
  const { source, siteFileText } = plannerOf(app);
  return { ...source, siteFile: { ...source.siteFile, text: siteFileText } };
}

/** Asks the worker; what stops it is put where it is shown. */
async function ask(app: App, what: Parameters<ImportWorker["ask"]>[0]) {
  worker ??= new ImportWorker(app.text("worker"));
  const asked = worker;
  const answer = await asked.ask(what);
  // Put away meanwhile.
  if (asked !== worker) return undefined;
  const step = what.type === "inspect" ? "none" : "asking";
  if (answer.type === "problem") importing.set({ step, problem: answer.problem });
  if (answer.type === "fault") importing.set({ step, fault: shownText(answer.message) });
  return answer;
}

const tooLarge = (bytes: number): Problem => ({
  code: "IMPORT_TOO_LARGE",
  kind: "input",
  message: `the files hold ${Math.round(bytes / 1e6)} MB; the page takes ${BYTES_MAX / 1e6} MB`,
  remedy: "Cut them to the site, or plan them with the command `pegline plan`.",
});
