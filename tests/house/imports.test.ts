import { describe, expect, it } from "vitest";
import { codeOf, importsOf, sourceFiles, target } from "./source-files.ts";

/** Stages in the order in which data flows; each may import itself and those before it. */
const ORDER = [
  "model",
  "escape",
  "geometry",
  "profile",
  "sitefile",
  "import",
  "crs",
  "site",
  "plan",
  "physics",
  "check",
  "handover",
  "export",
  "batch",
  "jobs",
  "page",
];
// Engines decide what lies where; an index of boxes (flatbush) only finds candidates.
const ENGINES =
  /^(clipper2-wasm|jsts|delaunator|@kninnug\/constrainautor|robust-predicates|@turf\/)/;

const files = await sourceFiles("src");
const stageOf = (path: string) => path.split("/").length > 2 && path.split("/")[1];

describe("the direction of imports", () => {
  it("sees static, dynamic and re-exporting imports (the test itself can fail)", () => {
    const text = `import a from "a"; export * from './b.ts'; await import("c"); import "d";`;
    expect(importsOf(text)).toEqual(["a", "./b.ts", "c", "d"]);
  });

  it("every folder of src is a known stage", () => {
    const stages = new Set(files.map((file) => stageOf(file.path)).filter(Boolean));
    expect([...stages].filter((stage) => !ORDER.includes(stage as string))).toEqual([]);
    expect(stages.size).toBeGreaterThan(5);
  });

  it("nothing in src imports from outside src, and no stage a later one", () => {
    const wrong: string[] = [];
    for (const file of files) {
      const own = stageOf(file.path);
      for (const specifier of file.imports.filter((one) => one.startsWith("."))) {
        const path = target(file, specifier);
        const other = stageOf(path);
        if (!path.startsWith("src/")) wrong.push(`${file.path} → ${path}`);
        if (own && other && ORDER.indexOf(other) > ORDER.indexOf(own))
          wrong.push(`${file.path} → ${path}`);
        if (own && !other && path !== "src/version.ts") wrong.push(`${file.path} → ${path}`);
        if (!path.endsWith(".ts")) wrong.push(`${file.path}: ${specifier} lacks its ending`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it("only src/geometry imports a geometry engine", () => {
    // The judge has a kernel of its own, and takes nothing but exact turns from outside.
    const isKernel = (path: string) => path === "src/check/kernel/plane.ts";
    const wrong = files
      .filter((file) => stageOf(file.path) !== "geometry")
      .filter((file) =>
        file.imports.some(
          (specifier) =>
            ENGINES.test(specifier) && !(isKernel(file.path) && specifier === "robust-predicates"),
        ),
      );
    expect(wrong.map((file) => file.path)).toEqual([]);
  });

  it("the judge shares nothing with the planner: it imports only the model and itself", () => {
    const wrong = files
      .filter((file) => stageOf(file.path) === "check")
      .flatMap((file) =>
        file.imports
          .filter((one) => one.startsWith("."))
          .map((one) => target(file, one))
          .filter((path) => !["check", "model"].includes(String(stageOf(path))))
          .map((path) => `${file.path} → ${path}`),
      );
    expect(wrong).toEqual([]);
    expect(files.filter((file) => stageOf(file.path) === "check").length).toBeGreaterThan(20);
  });

  it("no file imports itself by way of others", () => {
    const graph = new Map(
      files.map((file) => [
        file.path,
        file.imports.filter((one) => one.startsWith(".")).map((one) => target(file, one)),
      ]),
    );
    const done = new Set<string>();
    const cycles: string[] = [];
    const visit = (path: string, trail: readonly string[]) => {
      if (trail.includes(path)) {
        cycles.push([...trail.slice(trail.indexOf(path)), path].join(" → "));
        return;
      }
      if (done.has(path)) return;
      for (const next of graph.get(path) ?? []) visit(next, [...trail, path]);
      done.add(path);
    };
    for (const path of graph.keys()) visit(path, []);
    expect(cycles).toEqual([]);
  });
});

describe("src is pure", () => {
  const IMPURE =
    /\bprocess\s*\.|\bDate\.now\b|\bnew Date\(\s*\)|\bMath\.random\b|\bperformance\.now\b|\bconsole\.|\bsetTimeout\b|\bfetch\(/;

  it("imports none of Node's own modules", () => {
    const builtIn = /^(node:|fs$|fs\/|path$|os$|url$|crypto$|child_process$)/;
    const wrong = files.filter((file) => file.imports.some((specifier) => builtIn.test(specifier)));
    expect(wrong.map((file) => file.path)).toEqual([]);
  });

  it("reads no clock, process, console or chance", () => {
    expect(IMPURE.test("const t = Date.now();")).toBe(true);
    const wrong = files.filter((file) => !isApp(file.path) && IMPURE.test(codeOf(file.text)));
    expect(wrong.map((file) => file.path)).toEqual([]);
  });
});

/** The one folder that may touch a document: the page as people use it. */
const isApp = (path: string) => path.startsWith("src/page/app/");

describe("the page", () => {
  const NETWORK = /\bfetch\b|\bXMLHttpRequest\b|\bWebSocket\b|\bEventSource\b|\bsendBeacon\b/;
  const MARKUP =
    /\b(?:inner|outer)HTML\b|\binsertAdjacentHTML\b|\bdocument\.write\b|\bDOMParser\b|\bcreateContextualFragment\b|\beval\(|\bnew Function\b/;
  const SHARED = /\bprocess\s*\.|\bMath\.random\b|\bconsole\./;
  const app = files.filter((file) => isApp(file.path));
  /** It hears the server that the page came from, where it came from one. */
  const LIVE = "src/page/app/live/live.ts";

  it("is imported by nothing else in src", () => {
    const wrong = files
      .filter((file) => !isApp(file.path))
      .filter((file) =>
        file.imports.some((one) => one.startsWith(".") && isApp(target(file, one))),
      );
    expect(wrong.map((file) => file.path)).toEqual([]);
    expect(app.length).toBeGreaterThan(10);
  });

  it("asks nothing of the network, and makes no markup and no code of text", () => {
    expect(NETWORK.test("await fetch(url)")).toBe(true);
    expect(MARKUP.test("element.innerHTML = name")).toBe(true);
    const wrong = app.filter(({ path, text }) => {
      const code = codeOf(text);
      const asks = path === LIVE ? code.replace(/\bEventSource\b/g, "") : code;
      return NETWORK.test(asks) || MARKUP.test(code) || SHARED.test(code);
    });
    expect(wrong.map((file) => file.path)).toEqual([]);
  });
});
