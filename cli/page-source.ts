import { readFile } from "node:fs/promises";
import { basename, dirname, relative, sep } from "node:path";
import type { EpsgRecord } from "../src/crs/registry.ts";
import type { InputFile } from "../src/model/features.ts";
import type { Finding } from "../src/model/finding.ts";
import type { PackedSource } from "../src/page/worker/source.ts";
import type { SiteJob } from "./site-job.ts";

/** Larger inputs stay out of the page: it could not be sent, and shows the plan all the same. */
const BYTES_MAX = 20_000_000;

export const PAGE_SHOWS_ONLY: Finding = {
  code: "PAGE_SHOWS_ONLY",
  severity: "info",
  message: `The inputs are larger than ${BYTES_MAX / 1e6} MB: the page shows the plan, but does not hold them and cannot plan again.`,
  remedy: "Cut the inputs to the site, or change the site file and plan with the command.",
};

/** What was read for a plan. */
interface ReadFiles {
  readonly inputs: readonly InputFile[];
  readonly terrain: InputFile | undefined;
  readonly records: readonly EpsgRecord[];
}

/**
 * What the page needs to plan the same again: the site file with what the command line said, and the
 * files that it names, by paths from where it lies or would lie: beside the first input.
 *
 * @returns undefined where the inputs are too large for a page
 */
export async function pageSource(
  job: SiteJob,
  { inputs, terrain, records }: ReadFiles,
  { signal, coverage }: { readonly signal?: boolean; readonly coverage?: boolean },
): Promise<PackedSource | undefined> {
  const all = terrain ? [...inputs, terrain] : inputs;
  if (all.reduce((sum, file) => sum + sizeOf(file), 0) > BYTES_MAX) return undefined;
  const { withCommandLine } = await import("../src/sitefile/with-command-line.ts");
  const { readSiteFile } = await import("../src/sitefile/read-site-file.ts");
  const { optionsOfSiteFile } = await import("../src/sitefile/site-options.ts");
  const { profileFileOf } = await import("../src/sitefile/chosen-profile.ts");
  const { plainPath } = await import("../src/jobs/plan-site-file.ts");
  const { packSource } = await import("../src/page/worker/source.ts");
  const base = dirname(job.siteFile ?? job.paths[0]!);
  const from = (path: string) => relative(base, path).split(sep).join("/");
  const fromIf = (path: string | undefined) => (path === undefined ? undefined : from(path));
  const { line } = job;
  const ownProfile =
    profileFileOf(line.profile) === undefined ? line.profile : fromIf(line.profile);
  const text = withCommandLine(job.siteFileText, {
    ...line,
    inputs: (line.inputs ?? []).map(from),
    terrain: fromIf(line.terrain),
    image: fromIf(line.image),
    profile: ownProfile,
  });
  const name = job.siteFile === undefined ? "pegline.json" : basename(job.siteFile);
  const read = readSiteFile(text, name);
  if (!read.ok) throw new Error(`the site file of the page is refused: ${read.problem.message}`);
  const said = optionsOfSiteFile(read.value, name);
  const named = new Map(job.paths.map((path, i) => [path, plainPath(said.inputs![i]!.file)]));
  const profile = profileFileOf(job.profile);
  return packSource({
    siteFile: { name, text },
    files: {
      inputs: inputs.map((file) => ({ ...file, name: named.get(file.name) ?? file.name })),
      ...(terrain &&
        said.terrain && { terrain: { ...terrain, name: plainPath(said.terrain.file) } }),
      ...(profile !== undefined && { profile: await readFile(profile, "utf8") }),
    },
    epsg: records,
    ...(signal && { signal }),
    ...(coverage && { coverage }),
  });
}

function sizeOf({ bytes, siblings = {} }: InputFile): number {
  return Object.values(siblings).reduce((sum, part) => sum + part.length, bytes.length);
}
