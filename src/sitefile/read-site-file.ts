import type { z } from "zod";
import { done, failed, type Outcome, type Problem } from "../model/finding.ts";
import { contradictions } from "./contradictions.ts";
import { mistakesOf } from "./explain.ts";
import { type JsonText, type Mistake, parseJsonText } from "./json-text.ts";
import { pathText } from "./schema-keys.ts";
import { type SiteFile, siteFileSchema } from "./site-file.ts";

/** Keys of which at least one stands in a JSON file that is meant as a site file. */
const MARKS = ["inputs", "lawns", "roles", "edges", "profile", "setin_m", "prices", "station"];

/**
 * Reads a site file.
 *
 * Problems, both of kind `usage`: `SITE_FILE_BROKEN` (not JSON, a key twice, nested too deep) and
 * `SITE_FILE_INVALID` (unknown key, wrong value, keys that do not go together). Each says line and
 * path of every mistake, what was expected, and the nearest right name.
 *
 * @param text contents of the file: JSON, comments and trailing commas allowed
 * @param file its name, for messages
 */
export function readSiteFile(text: string, file: string): Outcome<SiteFile> {
  const json = parseJsonText(text);
  if (Array.isArray(json)) return failed(broken(file, json));
  const parsed = siteFileSchema.safeParse(json.value);
  if (!parsed.success) {
    return failed(invalid(file, mistakesOf(inOrder(parsed.error.issues), json)));
  }
  const clashes = contradictions(parsed.data).map((clash) => withLine(clash, json));
  return clashes.length > 0 ? failed(invalid(file, clashes)) : done(parsed.data);
}

/** Unknown keys of the file itself first: a survey given in its place has `features`, too. */
function inOrder(issues: readonly z.core.$ZodIssue[]) {
  const isFirst = ({ code, path }: z.core.$ZodIssue) =>
    code === "unrecognized_keys" && path.length === 0;
  return [...issues.filter(isFirst), ...issues.filter((one) => !isFirst(one))];
}

/** Whether the text of a `.json` file is a site file rather than GeoJSON or anything else. */
export function looksLikeSiteFile(text: string): boolean {
  const json = parseJsonText(text);
  // Broken, but not by the look of it any GeoJSON: its mistakes are told as those of a site file.
  if (Array.isArray(json)) return /"inputs"\s*:/.test(text) && !/"type"\s*:/.test(text);
  const { value } = json;
  if (typeof value !== "object" || value === null || Array.isArray(value)) return false;
  if ("type" in value) return false;
  if ("$schema" in value && String(value.$schema).includes("site.schema.json")) return true;
  return MARKS.some((key) => Object.hasOwn(value, key));
}

function withLine(clash: Omit<Mistake, "line">, json: JsonText): Mistake {
  return { ...clash, line: json.lineOf(clash.path) };
}

function broken(file: string, mistakes: readonly Mistake[]): Problem {
  const list = mistakes.length > 0 ? mistakes : [{ path: [], line: 1, message: "it is empty" }];
  return {
    code: "SITE_FILE_BROKEN",
    kind: "usage",
    file,
    ...placeOf(list),
    message: `The site file is not valid JSON: ${list.map(say).join("; ")}.`,
    remedy: "Mend that line; `pegline init INPUT…` writes a whole file to start from.",
  };
}

function invalid(file: string, mistakes: readonly Mistake[]): Problem {
  const [first] = mistakes;
  const near = mistakes.flatMap((one) => one.near ?? []);
  const hint = near.length > 0 ? `Did you mean ${[...new Set(near)].join(", ")}? ` : "";
  return {
    code: "SITE_FILE_INVALID",
    kind: "usage",
    file,
    ...(first && placeOf(mistakes)),
    message: `The site file has ${mistakes.length === 1 ? "a mistake" : `${mistakes.length} mistakes`}: ${mistakes.map(say).join("; ")}.`,
    remedy: `${hint}docs/site-file.md lists every key with its unit and range.`,
  };
}

function placeOf([first]: readonly Mistake[]): { line?: number; path?: string } {
  if (!first) return {};
  return { line: first.line, ...(first.path.length > 0 && { path: pathText(first.path) }) };
}

function say({ path, line, message, near }: Mistake): string {
  const where = path.length > 0 ? `${pathText(path)} ` : "";
  const verb = /^(is|stands|goes|needs|names|fits|nested)\b/.test(message) ? "" : ": ";
  const text = where === "" ? message : `${where.trimEnd()}${verb === "" ? " " : verb}${message}`;
  return `line ${line}, ${text}${near ? ` (did you mean ${near}?)` : ""}`;
}
