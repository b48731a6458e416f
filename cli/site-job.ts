import { readFile, stat } from "node:fs/promises";
import { basename, dirname, extname, isAbsolute, join } from "node:path";
import type { Finding } from "../src/model/finding.ts";
import type {
  HandOverOptions,
  Language,
  LengthUnit,
  ListName,
} from "../src/model/hand-over-options.ts";
import type { PartsChoice } from "../src/model/plan.ts";
import type { Role } from "../src/model/roles.ts";
import type { PaperName, SheetRules } from "../src/model/sheet.ts";
import type { SiteRules } from "../src/model/site-rules.ts";
import { PROFILE_NAMES } from "../src/profile/names.ts";
import type { SiteFile } from "../src/sitefile/site-file.ts";
import type {
  CommandLineOptions,
  MergedOptions,
  SiteFileInput,
  SiteFileOptions,
  SiteFileTerrain,
} from "../src/sitefile/site-options.ts";
import { wantJson } from "./output-mode.ts";
import { misuse, Refusal } from "./refusal.ts";
import { stemOfPath } from "./results/default-folder.ts";
import type { CommonOptions } from "./terminal.ts";

/** Options of every command that reads a site. */
export interface SiteOptions extends CommonOptions {
  readonly site?: string;
  readonly crs?: number;
  readonly role?: Readonly<Record<string, Role>>;
  readonly lawn?: readonly string[];
  /** False where `--no-split` is given. */
  readonly split?: boolean;
  readonly parts?: PartsChoice;
  readonly profile?: string;
  readonly terrain?: string;
  readonly sheet?: PaperName | "auto";
  readonly scale?: number;
  readonly sun?: boolean;
  readonly zone?: string;
  readonly image?: string;
  readonly out?: string;
  readonly language?: Language;
  readonly units?: LengthUnit;
  readonly lists?: readonly ListName[];
}

/** What is to be done: the command line and the site file together. Paths as the file system wants them. */
export interface SiteJob {
  readonly paths: readonly string[];
  readonly name: string;
  readonly out: string | undefined;
  readonly profile: SiteFile["profile"];
  /** The raster of heights, where one is named. */
  readonly terrain: SiteFileTerrain | undefined;
  /** How the plan is to be drawn; undefined where no drawings are wanted. */
  readonly sheet: SheetRules | undefined;
  readonly handOver: HandOverOptions;
  /** The picture to lie beneath the drawings, where one is named. */
  readonly image: SiteFileInput | undefined;
  /** Of the site file, where there is one. */
  readonly siteFile: string | undefined;
  /** Its text. */
  readonly siteFileText: string | undefined;
  /** What the command line says by itself. */
  readonly line: CommandLineOptions;
  readonly common: CommonOptions;
  /** For `planInputs` and `inspectInputs`. */
  readonly options: {
    readonly name: string;
    readonly crs: number | string | undefined;
    readonly crsByFile: Readonly<Record<string, number | string>>;
    readonly roles: Readonly<Record<string, Role>> | undefined;
    readonly rules: SiteRules;
  };
  readonly findings: readonly Finding[];
}

/** A name that says so: such a file is a site file whatever is in it. */
const SITE_FILE_NAMES = /^pegline\.jsonc?$/i;

/** Larger files are no site files, and are not read to see whether they are. */
const SITE_FILE_BYTES_MAX = 1_000_000;

/**
 * Finds the site file (`--site`, or one among the arguments), reads it, and puts the command line
 * on top. Without one the command line stands alone.
 */
export async function siteJob(args: readonly string[], options: SiteOptions): Promise<SiteJob> {
  const { siteFile, inputs } = await divide(args, options.site);
  const line: CommandLineOptions = {
    inputs,
    out: options.out,
    crs: options.crs,
    profile: options.profile,
    terrain: options.terrain,
    sheet: sheetOptions(options),
    sun: options.sun,
    zone: options.zone,
    image: options.image,
    roles: options.role,
    lawns: options.lawn,
    split: options.split === false ? false : undefined,
    parts: options.parts,
    language: options.language,
    units: options.units,
    lists: options.lists,
    json: options.json,
    quiet: options.quiet,
  };
  const { options: merged, findings, text } = await merge(siteFile, line);
  if (merged.json) wantJson();
  const files = merged.inputs ?? [];
  if (files.length === 0) {
    throw misuse(
      "INPUT_MISSING",
      siteFile ? "The site file names no inputs." : "No input file is named.",
      siteFile
        ? 'Write "inputs": ["garden.geojson"] into it, or name files on the command line.'
        : "Name the files of the site, or a site file with --site.",
      siteFile,
    );
  }
  const paths = files.map((one) => one.file);
  const name = merged.name ?? stemOfPath(paths[0]!);
  return {
    paths,
    name,
    out: merged.out,
    profile: merged.profile,
    terrain: merged.terrain,
    sheet: merged.sheet,
    handOver: merged.handOver ?? {},
    image: merged.image,
    siteFile,
    siteFileText: text,
    line,
    common: { json: merged.json === true, quiet: merged.quiet === true },
    options: {
      name,
      crs: merged.crs,
      crsByFile: Object.fromEntries(
        files.flatMap(({ file, crs }) => (crs === undefined ? [] : [[file, crs] as const])),
      ),
      roles: merged.roles,
      rules: merged.rules,
    },
    findings,
  };
}

/** Each of them says that drawings are wanted. */
function sheetOptions({ sheet, scale, image }: SiteOptions): CommandLineOptions["sheet"] {
  if ([sheet, scale, image].every((one) => one === undefined)) return undefined;
  return { paper: sheet === "auto" ? undefined : sheet, scale };
}

async function merge(
  siteFile: string | undefined,
  line: CommandLineOptions,
): Promise<{ options: MergedOptions; findings: Finding[]; text: string | undefined }> {
  const { mergeOptions } = await import("../src/sitefile/site-options.ts");
  if (siteFile === undefined) return { ...mergeOptions({ rules: {} }, line), text: undefined };
  const { said, text } = await openSiteFile(siteFile);
  return { ...mergeOptions(said, line), text };
}

/** Which of the arguments is the site file. */
async function divide(
  args: readonly string[],
  given: string | undefined,
): Promise<{ siteFile: string | undefined; inputs: string[] }> {
  const inputs: string[] = [];
  const siteFiles = given === undefined ? [] : [given];
  for (const path of args) (await isSiteFile(path)) ? siteFiles.push(path) : inputs.push(path);
  const [siteFile, second] = siteFiles;
  if (second !== undefined) {
    throw misuse(
      "SITE_FILE_TWICE",
      `There are two site files: ${siteFile} and ${second}.`,
      "Name one; a site has one site file.",
      second,
    );
  }
  return { siteFile, inputs };
}

async function isSiteFile(path: string): Promise<boolean> {
  if (!/^\.jsonc?$/i.test(extname(path))) return false;
  const info = await stat(path).catch(() => undefined);
  if (!info?.isFile()) return false;
  if (SITE_FILE_NAMES.test(basename(path)) || /^\.jsonc$/i.test(extname(path))) return true;
  if (info.size > SITE_FILE_BYTES_MAX) return false;
  const text = await readFile(path, "utf8").catch(() => "");
  const { looksLikeSiteFile } = await import("../src/sitefile/read-site-file.ts");
  return looksLikeSiteFile(text);
}

/** The content of a site file, its paths taken from the folder that it lies in. */
async function openSiteFile(path: string): Promise<{ said: SiteFileOptions; text: string }> {
  const size = (await stat(path).catch(() => undefined))?.size ?? 0;
  if (size > SITE_FILE_BYTES_MAX) {
    throw misuse(
      "SITE_FILE_TOO_LARGE",
      `The site file is ${size} bytes long; at most ${SITE_FILE_BYTES_MAX} are read.`,
      "Name the survey as an input, and a site file with --site.",
      path,
    );
  }
  const text = await readFile(path, "utf8").catch((error: NodeJS.ErrnoException) => {
    throw misuse(
      "SITE_FILE_NOT_FOUND",
      error.code === "ENOENT"
        ? "There is no such site file."
        : `The site file cannot be read (${error.code}).`,
      "Check the name; `pegline init INPUT…` writes one.",
      path,
    );
  });
  const { readSiteFile } = await import("../src/sitefile/read-site-file.ts");
  const { optionsOfSiteFile } = await import("../src/sitefile/site-options.ts");
  const outcome = readSiteFile(text, path);
  if (!outcome.ok) throw new Refusal(outcome.problem);
  const said = optionsOfSiteFile(outcome.value, path);
  const from = (file: string) => (isAbsolute(file) ? file : join(dirname(path), file));
  const isFile = typeof said.profile === "string" && !isBuiltIn(said.profile);
  const placed: SiteFileOptions = {
    ...said,
    inputs: said.inputs?.map((one) => ({ ...one, file: from(one.file) })),
    rules: {
      ...said.rules,
      features: said.rules.features?.map((rule) =>
        rule.file === undefined ? rule : { ...rule, file: from(rule.file) },
      ),
    },
    terrain: said.terrain && { ...said.terrain, file: from(said.terrain.file) },
    image: said.image && { ...said.image, file: from(said.image.file) },
    out: said.out === undefined ? undefined : from(said.out),
    profile: isFile ? from(said.profile as string) : said.profile,
  };
  return { said: placed, text };
}

const isBuiltIn = (name: string) => (PROFILE_NAMES as readonly string[]).includes(name);
