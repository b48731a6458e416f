/** Files that are let fall onto the page: what is in them, and the site that they make. Pure. */
import { registryOf } from "../../crs/kept-register.ts";
import { inspectInputs } from "../../jobs/pegline.ts";
import type { InputFile } from "../../model/features.ts";
import { PROFILE_NAMES } from "../../profile/names.ts";
import { JsonEditor } from "../../sitefile/edit-json.ts";
import { asPageFinding, pageModel } from "../model/build-model.ts";
import type { FromWorker, ImportFiles, InspectFiles } from "./messages.ts";
import { PlanningSession } from "./session.ts";
import { type PageSource, packSource, unpackSource } from "./source.ts";

const NEW_SITE_FILE = "// Site file of pegline, begun in the page.\n{}\n";

/** Keys of a site file that are about one site; others hold for another one as well. */
const OF_ONE_SITE = [
  "name",
  "out",
  "crs",
  "terrain",
  "lawns",
  "roles",
  "features",
  "things",
  "edges",
  "run_ground",
  "station",
  "outlet",
  "sheet",
  "sun",
];

/**
 * The site with more files, or another site in its place with the same machine, prices and rules.
 *
 * @param source of the page; undefined where it holds none
 * @param machine of the plan, which is kept where it is a built-in one and nothing else says so
 */
export function sourceWith(
  source: PageSource | undefined,
  files: readonly InputFile[],
  { how, roles, machine }: Pick<ImportFiles, "how" | "roles" | "machine">,
): PageSource {
  const isAdding = how === "add" && source !== undefined;
  let editor = new JsonEditor(source?.siteFile.text ?? NEW_SITE_FILE);
  if (!source && (PROFILE_NAMES as readonly string[]).includes(machine)) {
    editor = editor.set(["profile"], machine);
  }
  const before = isAdding ? source.files.inputs : [];
  const inputs = named(files, new Set(before.map(({ name }) => name)));
  if (isAdding) {
    for (const { name } of inputs) editor = editor.insert(["inputs"], name);
  } else {
    for (const key of OF_ONE_SITE) editor = editor.remove([key]);
    editor = editor.remove(["setin_m", "things"]);
    editor = editor.set(
      ["inputs"],
      inputs.map(({ name }) => name),
    );
  }
  for (const rule of [...roles].reverse()) editor = editor.insert(["roles"], rule, 0);
  const { terrain, profile } = source?.files ?? {};
  return {
    epsg: source?.epsg ?? [],
    ...(source?.signal && { signal: true }),
    ...(source?.coverage && { coverage: true }),
    siteFile: { name: source?.siteFile.name ?? "pegline.json", text: editor.text },
    files: {
      inputs: [...before, ...inputs],
      ...(isAdding && terrain && { terrain }),
      ...(profile !== undefined && { profile }),
    },
  };
}

/** No two inputs have the same name. */
function named(files: readonly InputFile[], taken: Set<string>): InputFile[] {
  return files.map((file) => {
    const dot = file.name.lastIndexOf(".");
    const [stem, ending] = [file.name.slice(0, dot), file.name.slice(dot)];
    let { name } = file;
    for (let n = 2; taken.has(name); n++) name = `${stem}-${n}${ending}`;
    taken.add(name);
    return { ...file, name };
  });
}

/** What is in files, as `pegline inspect` says it. */
export async function inspected({ id, files, source }: InspectFiles): Promise<FromWorker> {
  const registry = registryOf(source?.epsg ?? []);
  const outcome = await inspectInputs(files, { registry });
  if (!outcome.ok) return { type: "problem", id, problem: outcome.problem };
  const { inputs, extentM, findings } = outcome.value;
  return {
    type: "inspected",
    id,
    inputs,
    extentM,
    findings: findings.map((one, i) => asPageFinding(one, i)),
  };
}

/** The plan of the site with those files, and what the page needs to plan it again. */
export async function imported(job: ImportFiles): Promise<FromWorker> {
  const { id, files, source } = job;
  const made = sourceWith(source && unpackSource(source), files, job);
  const outcome = await new PlanningSession(made).plan([]);
  if (!outcome.ok) return { type: "problem", id, problem: outcome.problem };
  const { result, handOver } = outcome.value;
  return { type: "imported", id, model: pageModel(result, handOver), source: packSource(made) };
}
