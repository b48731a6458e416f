/** The command line written into a site file, so that the site file alone gives the same plan. */
import type { Role } from "../model/roles.ts";
import { JsonEditor } from "./edit-json.ts";
import type { SiteFile } from "./site-file.ts";
import type { CommandLineOptions } from "./site-options.ts";

const HEAD =
  "// Site file of pegline: what to plan, and how. docs/site-file.md explains every key.\n";

/**
 * The text of a site file that says what a site file and a command line say together. What is on the
 * line takes the place of what is in the file; comments and all else stay. What does not concern the
 * plan (`--out`, `--json`, `--quiet`) is left out.
 *
 * @param text the site file; undefined where the command line stands alone
 * @param line paths in it as the site file is to have them
 */
export function withCommandLine(text: string | undefined, line: CommandLineOptions): string {
  let editor = new JsonEditor(text ?? `${HEAD}{}\n`);
  const set = (path: readonly (string | number)[], value: unknown) => {
    if (value !== undefined) editor = editor.set(path, value);
  };
  if (line.inputs && line.inputs.length > 0) set(["inputs"], line.inputs);
  if (line.crs !== undefined) {
    set(["crs"], typeof line.crs === "number" ? `EPSG:${line.crs}` : line.crs);
    editor = withoutOwnCrs(editor);
  }
  set(["terrain"], line.terrain);
  set(["profile"], line.profile);
  if (line.lawns && line.lawns.length > 0) {
    set(["lawns"], line.lawns.includes("all") ? "all" : line.lawns);
  }
  for (const rule of rulesOf(line.roles ?? {}, rolesIn(editor)).reverse()) {
    editor = editor.insert(["roles"], rule, 0);
  }
  set(["parts"], line.parts);
  set(["split"], line.split);
  set(["language"], line.language);
  set(["units"], line.units);
  set(["lists"], line.lists);
  if (line.sheet && editor.value(["sheet"]) === undefined) set(["sheet"], {});
  set(["sheet", "paper"], line.sheet?.paper);
  set(["sheet", "scale"], line.sheet?.scale);
  set(["sheet", "image"], line.image);
  const isSun = line.sun === true || line.zone !== undefined;
  if (isSun && editor.value(["sun"]) === undefined) set(["sun"], {});
  set(["sun", "zone"], line.zone);
  return editor.text;
}

/** `--crs` comes before the systems of single inputs. */
function withoutOwnCrs(editor: JsonEditor): JsonEditor {
  const inputs = (editor.value(["inputs"]) ?? []) as NonNullable<SiteFile["inputs"]>;
  return inputs.reduce(
    (now, input, i) => (typeof input === "object" ? now.remove(["inputs", i, "crs"]) : now),
    editor,
  );
}

type RoleRules = NonNullable<SiteFile["roles"]>;

const rolesIn = (editor: JsonEditor) => (editor.value(["roles"]) ?? []) as RoleRules;

/**
 * Rules that say what `--role` says: the role is the line's, attributes are still those of the first
 * rule of the file that fits.
 */
function rulesOf(roles: Readonly<Record<string, Role>>, rules: RoleRules): RoleRules {
  return Object.entries(roles).flatMap(([layer, role]) => [
    ...rules
      .filter((rule) => rule.layer === undefined || alike(rule.layer, layer))
      .map((rule) => ({ ...rule, layer: rule.layer ?? layer, role })),
    { layer, role },
  ]);
}

/** Whether two names may mean one layer: one of them may be the innermost folder of the other. */
function alike(a: string, b: string): boolean {
  const [one, other] = [a, b].map((text) => text.trim().toLowerCase()) as [string, string];
  const innermost = (text: string) => text.split("/").at(-1);
  const isPattern = one.includes("*");
  return isPattern || one === other || innermost(one) === other || one === innermost(other);
}
