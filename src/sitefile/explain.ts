/** What is wrong with a site file, in words: what was expected, what stands there, what is near. */
import type { z } from "zod";
import { nearestName } from "../profile/nearest-name.ts";
import type { JsonText, Mistake } from "./json-text.ts";
import { keysAt, pathOfKey } from "./schema-keys.ts";

type Issue = z.core.$ZodIssue;
type Path = readonly (string | number)[];

/** Mistakes with path and line from the issues that the schema found. */
export function mistakesOf(issues: readonly Issue[], text: JsonText): Mistake[] {
  return issues.flatMap((issue) => mistakesOfIssue(issue, [], text));
}

function mistakesOfIssue(issue: Issue, before: Path, text: JsonText): Mistake[] {
  const path = [...before, ...(issue.path as Path)];
  const at = (message: string, near?: string): Mistake => ({
    path,
    line: text.lineOf(path),
    message,
    near,
  });
  switch (issue.code) {
    case "unrecognized_keys":
      return issue.keys.map((key) => unknownKey(path, key, text));
    case "invalid_union":
      return mistakesOfUnion(issue, path, text);
    case "invalid_value": {
      const found = valueAt(text.value, path);
      const names = issue.values.map(String);
      if (found === undefined) return [at(`is missing; expected ${listOf(names)}`)];
      return [
        at(
          `expected ${listOf(names)}, found ${shown(found)}`,
          typeof found === "string" ? nearestName(found, names) : undefined,
        ),
      ];
    }
    case "invalid_type": {
      const found = valueAt(text.value, path);
      if (found === undefined) return [at(`is missing; expected ${article(issue.expected)}`)];
      return [at(`expected ${article(issue.expected)}, found ${shown(found)}`)];
    }
    case "too_small":
    case "too_big": {
      const small = issue.code === "too_small";
      const limit = small ? issue.minimum : issue.maximum;
      const unit =
        issue.origin === "array" ? " entries" : issue.origin === "string" ? " characters" : "";
      const bound = `expected at ${small ? "least" : "most"} ${limit}${unit}`;
      return [at(`${bound}, found ${shown(valueAt(text.value, path))}`)];
    }
    default:
      return [at(`${issue.message}, found ${shown(valueAt(text.value, path))}`)];
  }
}

function unknownKey(path: Path, key: string, text: JsonText): Mistake {
  const known = keysAt(path);
  const near = nearestName(key, known) ?? pathOfKey(key);
  const message = `is no key that may stand here${near ? "" : `; known here: ${known.join(", ")}`}`;
  return { path: [...path, key], line: text.lineOf(path, key), message, near };
}

/** Of the forms a value may have, the one that it comes nearest to; all of them if it fits none. */
function mistakesOfUnion(
  issue: Extract<Issue, { code: "invalid_union" }>,
  path: Path,
  text: JsonText,
): Mistake[] {
  const fitting = issue.errors.filter(
    (errors) => !errors.some((one) => one.path.length === 0 && isWrongForm(one)),
  );
  if (fitting.length > 0) {
    const best = fitting.reduce((a, b) => (b.length < a.length ? b : a));
    return best.flatMap((one) => mistakesOfIssue(one, path, text));
  }
  const forms = issue.errors.flatMap((errors) =>
    errors.filter((one) => one.path.length === 0).map(formOf),
  );
  const found = valueAt(text.value, path);
  const literals = issue.errors
    .flat()
    .flatMap((one) => (one.code === "invalid_value" ? one.values.map(String) : []));
  return [
    {
      path,
      line: text.lineOf(path),
      message: `expected ${[...new Set(forms)].join(" or ")}, found ${shown(found)}`,
      near: typeof found === "string" ? nearestName(found, literals) : undefined,
    },
  ];
}

function isWrongForm(issue: Issue): boolean {
  return issue.code === "invalid_type" || issue.code === "invalid_value";
}

function formOf(issue: Issue): string {
  if (issue.code === "invalid_type") return article(issue.expected);
  if (issue.code === "invalid_value") return listOf(issue.values.map(String));
  if (issue.code === "invalid_union") return issue.errors.flat().map(formOf).join(" or ");
  return issue.message;
}

const FORMS: Readonly<Record<string, string>> = {
  string: "a text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  object: "an object { … }",
  record: "an object { … }",
  array: "a list [ … ]",
  tuple: "a list [x, y]",
};

const article = (form: string) => FORMS[form] ?? form;

function listOf(names: readonly string[]): string {
  return names.length === 1 ? `"${names[0]}"` : `one of ${names.join(", ")}`;
}

/** A value as a message shows it. */
function shown(value: unknown): string {
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === "object" && value !== null) return "an object";
  const text = JSON.stringify(value) ?? "nothing";
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const step of path) {
    if (typeof value !== "object" || value === null) return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}
