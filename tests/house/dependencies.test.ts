/** docs/dependencies.md, package.json, the lock file and what is installed say the same. */
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";

/** Licences (SPDX, as the packages write them) under which run-time code may come in. */
const ALLOWED = [
  "(MIT AND Zlib)",
  "0BSD",
  "Apache-2.0",
  "BSD-2-Clause",
  "BSD-3-Clause",
  "BSL-1.0",
  "CC0-1.0",
  "ISC",
  "MIT",
  "MIT AND BSD-3-Clause",
  "Unlicense",
];
/** Others, each with its reason in the docs. */
const ALLOWED_FOR: Record<string, string> = {};
/** The package states no licence in its description; its LICENSE file is MIT. */
const UNSTATED = ["png-js"];

/** What may be used to build and to test, and goes nowhere. */
const ALLOWED_IN_DEVELOPMENT = [
  ...ALLOWED,
  "(EDL-1.0 OR EPL-1.0)",
  "0BSD",
  "BDS-3-Clause", // as splaytree-ts spells it
  "BlueOak-1.0.0",
  "CC-BY-4.0", // of data about browsers
  "LGPL-3", // of what tests compare with
  "MIT OR Apache-2.0",
  "MPL-2.0",
];
/** The package states no licence in its description; its LICENSE file is MIT. */
const UNSTATED_IN_DEVELOPMENT = ["arc"];

interface Locked {
  readonly version: string;
  readonly resolved?: string;
  readonly integrity?: string;
  readonly license?: string;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
  readonly hasInstallScript?: boolean;
}

const read = async (path: string) => JSON.parse(await readFile(path, "utf8"));
const own = await read("package.json");
const lock: [string, Locked][] = Object.entries<Locked>(
  (await read("package-lock.json")).packages,
).filter(([path]) => path !== "");
const page = await readFile("docs/dependencies.md", "utf8");

const nameOf = (path: string) => path.slice(path.lastIndexOf("node_modules/") + 13);
const isDevelopment = (one: Locked) => one.dev === true || one.devOptional === true;
const runtime = lock.filter(([, one]) => !isDevelopment(one));

/** Cells of the rows under a heading of the page. */
function rowsUnder(heading: string): string[][] {
  const section = page.split(/^## /m).find((one) => one.startsWith(heading));
  const rows = section?.match(/^\|.*\|$/gm) ?? [];
  return rows.slice(2).map((row) =>
    row
      .slice(1, -1)
      .split("|")
      .map((cell) => cell.trim()),
  );
}

describe.each([
  ["At run time", own.dependencies as Record<string, string>],
  ["For development", own.devDependencies as Record<string, string>],
])("%s", (heading, wanted) => {
  const rows = rowsUnder(heading);

  it("every dependency has one row, with the version asked for", () => {
    const said = rows.map(([name, version]) => [name, version]);
    expect(said).toEqual(Object.entries(wanted).sort(([a], [b]) => (a < b ? -1 : 1)));
  });

  it("the licence is what the installed package states, and there is a reason", async () => {
    for (const [name, , licence, reason] of rows) {
      expect([name, (await read(`node_modules/${name}/package.json`)).license]).toEqual([
        name,
        licence,
      ]);
      expect(reason!.length, name).toBeGreaterThan(10);
    }
  });
});

describe("licences", () => {
  it("all that comes along at run time is listed, with its licence", () => {
    const direct = new Set(Object.keys(own.dependencies).map((name) => `node_modules/${name}`));
    const brought = runtime
      .filter(([path]) => !direct.has(path))
      .map(([path, one]) => `${nameOf(path)} ${one.license ?? "MIT (its LICENSE file)"}`);
    const said = rowsUnder("What these bring").map(([name, licence]) => `${name} ${licence}`);
    expect(said).toEqual([...new Set(brought)].sort());
  });

  it("are on the list of those allowed", () => {
    const isWrong = ([path, one]: [string, Locked]) =>
      !ALLOWED.includes(one.license ?? "none") &&
      (one.license === undefined
        ? !UNSTATED.includes(nameOf(path))
        : ALLOWED_FOR[nameOf(path)] !== one.license);
    expect(isWrong(["node_modules/x", { version: "1", license: "GPL-3.0" }])).toBe(true);
    expect(isWrong(["node_modules/x", { version: "1" }])).toBe(true);
    expect(runtime.filter(isWrong)).toEqual([]);
    const wrong = lock
      .filter(([, one]) => isDevelopment(one))
      .filter(([path, one]) =>
        one.license === undefined
          ? !UNSTATED_IN_DEVELOPMENT.includes(nameOf(path))
          : !ALLOWED_IN_DEVELOPMENT.includes(one.license),
      );
    expect(wrong).toEqual([]);
  });
});

describe("installing", () => {
  it("every package has a SHA-512 and comes from the public registry", () => {
    const wrong = lock.filter(
      ([, one]) =>
        !/^sha512-[A-Za-z0-9+/]{86}==$/.test(one.integrity ?? "") ||
        // Where no address is given it is the registry's.
        one.resolved?.startsWith("https://registry.npmjs.org/") === false,
    );
    expect(wrong).toEqual([]);
    expect(lock.length).toBeGreaterThan(100);
  });

  it("no package runs a script", async () => {
    expect(lock.filter(([, one]) => one.hasInstallScript)).toEqual([]);
    const scripted: string[] = [];
    for (const [path] of lock.filter(([path]) => existsSync(`${path}/package.json`))) {
      const { scripts = {} } = await read(`${path}/package.json`);
      const runs = ["preinstall", "install", "postinstall"].filter((name) => name in scripts);
      // npm builds native code by itself where this file lies and no script says otherwise.
      if (runs.length > 0 || existsSync(`${path}/binding.gyp`)) scripted.push(path);
    }
    expect(scripted).toEqual([]);
  });
});
