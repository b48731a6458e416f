import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { JsonEditor } from "../../src/sitefile/edit-json.ts";
import { parseJsonText } from "../../src/sitefile/json-text.ts";

const TEXT = `// the garden
{
  "inputs": ["garden.kml"], // from the survey
  /* trees last */
  "roles": [
    { "layer": "beds", "role": "bed" }, // roses
    // { "layer": "x" },
    { "layer": "trees", "role": "tree" }
    // end of roles
  ],
  "station": { "at": [10, 50] } // by the shed
}
`;

const edit = (text = TEXT) => new JsonEditor(text);
const contentOf = (text: string) => {
  const json = parseJsonText(text);
  if (Array.isArray(json)) throw new Error(`${JSON.stringify(json)}\n${text}`);
  return json.value;
};

describe("a text with comments", () => {
  it("gets a new key after the last one and its comment", () => {
    expect(edit().set(["split"], false).text).toBe(
      TEXT.replace(
        '{ "at": [10, 50] } // by the shed\n',
        '{ "at": [10, 50] }, // by the shed\n  "split": false,\n',
      ),
    );
  });

  it("has one value changed and nothing else", () => {
    expect(edit().set(["station", "at"], [11, 51]).text).toBe(TEXT.replace("[10, 50]", "[11, 51]"));
    expect(edit().set(["station", "name"], "by <it>\u202e").text).toBe(
      TEXT.replace("[10, 50] }", '[10, 50], "name": "by <it>\\u202e" }'),
    );
  });

  it("gets entries at the beginning, in the middle and at the end of a list", () => {
    const entry = { layer: "new", role: "bed" };
    const line = '    { "layer": "new", "role": "bed" },\n';
    expect(edit().insert(["roles"], entry, 0).text).toBe(
      TEXT.replace('    { "layer": "beds"', `${line}    { "layer": "beds"`),
    );
    expect(edit().insert(["roles"], entry, 1).text).toBe(
      TEXT.replace('    { "layer": "trees"', `${line}    { "layer": "trees"`),
    );
    expect(edit().insert(["roles"], entry).text).toBe(
      TEXT.replace('"role": "tree" }\n', `"role": "tree" },\n${line}`),
    );
    expect(contentOf(edit().insert(["inputs"], "b.kml").text)).toMatchObject({
      inputs: ["garden.kml", "b.kml"],
    });
    expect(contentOf(edit().insert(["things"], entry).text)).toMatchObject({ things: [entry] });
  });

  it("loses an entry with its line, and no comment of its neighbours", () => {
    expect(edit().remove(["roles", 1]).text).toBe(
      TEXT.replace('    { "layer": "trees", "role": "tree" }\n', "").replace(
        '"bed" }, //',
        '"bed" } //',
      ),
    );
    expect(edit().remove(["station"]).text).toContain("// by the shed");
    expect(contentOf(edit().remove(["station"]).text)).not.toHaveProperty("station");
    expect(edit().remove(["nothing", 3]).text).toBe(TEXT);
  });

  it("keeps its kind of line ends", () => {
    const windows = edit(TEXT.replaceAll("\n", "\r\n")).set(["split"], true).text;
    expect(windows.replaceAll("\r\n", "").includes("\n")).toBe(false);
  });

  it("begins with nothing", () => {
    expect(edit("{}").set(["a", "b", "c"], 1).text).toBe('{\n  "a": { "b": { "c": 1 } },\n}');
    expect(edit("").set([], { a: 1 }).text).toBe('{ "a": 1 }\n');
  });
});

/** A value written with comments and trailing commas at random, and its comments. */
function scribbled(value: unknown, random: () => number, comments: string[]): string {
  const note = () => {
    if (random() > 0.4) return random() > 0.5 ? "\n  " : "";
    const text = `${comments.length}, { [ " ] }`;
    comments.push(text);
    return random() > 0.5 ? ` /* ${text} */ ` : ` // ${text}\n`;
  };
  const list = (parts: string[], open: string, close: string) => {
    const inner = parts.map((part) => `${note()}${part}${note()}`).join(",");
    return `${open}${inner}${parts.length > 0 && random() > 0.5 ? "," : ""}${note()}${close}`;
  };
  if (Array.isArray(value))
    return list(
      value.map((one) => scribbled(one, random, comments)),
      "[",
      "]",
    );
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const parts = Object.entries(value).map(
    ([key, one]) => `${JSON.stringify(key)}:${note()}${scribbled(one, random, comments)}`,
  );
  return list(parts, "{", "}");
}

const key = fc.constantFrom("a", "b", "c d", 'e"f');
const leaf = fc.oneof(fc.integer(), fc.string(), fc.boolean(), fc.constant(null));
const values = fc.letrec((tie) => ({
  value: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    leaf,
    fc.array(tie("value"), { maxLength: 4 }),
    fc.dictionary(key, tie("value"), { maxKeys: 4, noNullPrototype: true }),
  ),
}));
const root = fc.dictionary(key, values.value, { maxKeys: 4, noNullPrototype: true });
const step = fc.record({
  pick: fc.infiniteStream(fc.nat(5)),
  what: fc.constantFrom("set", "insert", "remove"),
  value: values.value,
});

// biome-ignore lint/suspicious/noExplicitAny: a model of any JSON value
type Json = any;

/** A path that is there, or one key beyond. */
function pathIn(value: Json, pick: Iterator<number>): (string | number)[] {
  const path: (string | number)[] = [];
  for (let at = value; typeof at === "object" && at !== null; ) {
    const keys = Object.keys(at);
    const number = pick.next().value as number;
    const found = keys[number];
    if (found === undefined) {
      if (!Array.isArray(at)) path.push("a");
      return path;
    }
    path.push(Array.isArray(at) ? Number(found) : found);
    if (pick.next().value > 3) return path;
    at = at[found];
  }
  return path;
}

/** The same change on the value itself. */
function changed(value: Json, path: readonly (string | number)[], what: string, put: Json): Json {
  const copy = structuredClone(value);
  const above = path.slice(0, -1).reduce((at: Json, step) => at[step], copy);
  const last = path.at(-1)!;
  if (what === "set") above[last] = put;
  else if (what === "insert")
    above[last] = Array.isArray(above[last]) ? [...above[last], put] : [put];
  else if (Array.isArray(above)) above.splice(Number(last), 1);
  else delete above[last];
  return copy;
}

it("whatever is changed, the value is the one that is meant and every comment stays (400 texts)", () => {
  fc.assert(
    fc.property(
      root,
      fc.infiniteStream(fc.double({ min: 0, max: 1, noNaN: true })),
      step,
      (value, chance, { pick, what, value: put }) => {
        const comments: string[] = [];
        const text = scribbled(value, () => chance.next().value, comments);
        const path = pathIn(value, pick);
        fc.pre(path.length > 0);
        const editor = new JsonEditor(text);
        const after =
          what === "set"
            ? editor.set(path, put)
            : what === "insert"
              ? editor.insert(path, put)
              : editor.remove(path);
        expect(contentOf(after.text)).toEqual(changed(value, path, what, put));
        // Comments inside what was replaced or taken out go with it; all others stay.
        const held = editor.value(path);
        const stays =
          what === "insert" ? held === undefined || Array.isArray(held) : held === undefined;
        if (stays) for (const one of comments) expect(after.text).toContain(one);
      },
    ),
    { numRuns: 400, seed: 8 },
  );
});
