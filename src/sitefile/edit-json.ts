/** Changes to the text of a site file that leave everything else in it, comments too, as it stands. */
import { createScanner, findNodeAtLocation, type Node, parseTree } from "jsonc-parser";
import { jsonText } from "../escape/json.ts";

type Path = readonly (string | number)[];

/** Kinds of token by number, as the scanner's documentation has them (SyntaxKind). */
const TOKEN = { comma: 5, lineComment: 12, blockComment: 13, lineBreak: 14, trivia: 15, end: 17 };

/** Longer than this, a value that holds others goes on lines of its own. */
const LINE_MAX = 100;

/**
 * A JSON text with comments, to be changed step by step. Each step gives a new text; the text must be
 * one that `parseJsonText` reads. Linear in the text.
 */
export class JsonEditor {
  readonly text: string;
  readonly #root: Node | undefined;

  constructor(text: string) {
    this.text = text.replace(/^\uFEFF/, "");
    this.#root = parseTree(this.text, [], { allowTrailingComma: true, disallowComments: false });
  }

  /** Gives a key a value, in place of what it has; objects on the way are made. */
  set(path: Path, value: unknown): JsonEditor {
    const [key] = path.slice(-1);
    const node = this.#at(path);
    if (node)
      return this.#put([{ from: node.offset, to: endOf(node), text: this.#shown(value, path) }]);
    if (path.length === 0) return new JsonEditor(`${written(value, "")}\n`);
    const above = path.slice(0, -1);
    const holder = this.#at(above);
    if (holder?.type !== "object") return this.set(above, { [String(key)]: value });
    const text = `${jsonText(String(key))}: ${this.#shown(value, path)}`;
    return this.#into(holder, holder.children?.length ?? 0, text);
  }

  /** Puts a value into a list, which is made where there is none; at its end where `at` is left out. */
  insert(path: Path, value: unknown, at?: number): JsonEditor {
    const list = this.#at(path);
    if (list?.type !== "array") return this.set(path, [value]);
    const count = list.children?.length ?? 0;
    return this.#into(list, Math.min(at ?? count, count), this.#shown(value, [...path, 0]));
  }

  /** Takes out a key or an entry of a list; what is not there stays away. */
  remove(path: Path): JsonEditor {
    const node = this.#at(path);
    if (!node || path.length === 0) return this;
    const whole = node.parent?.type === "property" ? node.parent : node;
    const siblings = whole.parent?.children ?? [];
    const place = siblings.indexOf(whole);
    const comma = this.#commaAfter(endOf(whole));
    const cuts: Change[] = [];
    let [from, to] = [whole.offset, comma === undefined ? endOf(whole) : comma + 1];
    const before = siblings[place - 1];
    if (comma === undefined && before) {
      const at = this.#commaAfter(endOf(before));
      if (at !== undefined) cuts.push({ from: at, to: at + 1, text: "" });
    }
    // Its line goes with it where nothing else stands there.
    const lineStart = this.text.lastIndexOf("\n", from - 1) + 1;
    const lineEnd = this.text.indexOf("\n", to);
    const rest = this.text.slice(to, lineEnd < 0 ? undefined : lineEnd);
    if (lineEnd >= 0 && /^\s*$/.test(this.text.slice(lineStart, from)) && /^\s*$/.test(rest)) {
      [from, to] = [lineStart, lineEnd + 1];
    } else if (/^[ \t]+\S/.test(rest) && place === 0) {
      to += /^[ \t]+/.exec(rest)![0].length;
    }
    return this.#put([...cuts, { from, to, text: "" }]);
  }

  /** The value at a path; undefined where there is none. */
  value(path: Path): unknown {
    const node = this.#at(path);
    return node && plainOf(node);
  }

  #at(path: Path): Node | undefined {
    if (!this.#root) return undefined;
    return path.length === 0 ? this.#root : findNodeAtLocation(this.#root, [...path]);
  }

  /** Puts text between the children of a list or an object. */
  #into(holder: Node, at: number, text: string): JsonEditor {
    const children = holder.children ?? [];
    const close = endOf(holder) - 1;
    const open = holder.offset + 1;
    const ownIndent = indentAt(this.text, holder.offset);
    const first = children[0];
    const onLines = first === undefined || this.text.slice(open, first.offset).includes("\n");
    const indent = first && onLines ? indentAt(this.text, first.offset) : `${ownIndent}  `;
    if (!first) {
      const inside = this.text.slice(open, close).replace(/\s+$/, "");
      const start = open + inside.length;
      return this.#put([{ from: start, to: close, text: `\n${indent}${text},\n${ownIndent}` }]);
    }
    const next = children[at];
    if (next) {
      const gap = onLines ? `\n${indent}` : " ";
      return this.#put([{ from: next.offset, to: next.offset, text: `${text},${gap}` }]);
    }
    const last = children[children.length - 1]!;
    const comma = this.#commaAfter(endOf(last));
    if (!onLines) {
      const from = comma === undefined ? endOf(last) : comma + 1;
      return this.#put([
        {
          from,
          to: from,
          text: `${comma === undefined ? "," : ""} ${text}${comma === undefined ? "" : ","}`,
        },
      ]);
    }
    const lineEnd = this.#endOfLine(comma === undefined ? endOf(last) : comma + 1);
    const added = { from: lineEnd, to: lineEnd, text: `\n${indent}${text},` };
    return this.#put(
      comma === undefined ? [added, { from: endOf(last), to: endOf(last), text: "," }] : [added],
    );
  }

  /** Where the comma stands that follows a place, over blanks and comments. */
  #commaAfter(from: number): number | undefined {
    const scanner = createScanner(this.text, true);
    scanner.setPosition(from);
    return (scanner.scan() as number) === TOKEN.comma ? scanner.getTokenOffset() : undefined;
  }

  /** The end of a line's blanks and comments that begin on it, from a place on. */
  #endOfLine(from: number): number {
    const scanner = createScanner(this.text, false);
    scanner.setPosition(from);
    let end = from;
    for (let token: number = scanner.scan(); token !== TOKEN.end; token = scanner.scan()) {
      const isComment = token === TOKEN.lineComment || token === TOKEN.blockComment;
      if (!isComment && token !== TOKEN.trivia) break;
      if (isComment) end = scanner.getTokenOffset() + scanner.getTokenLength();
    }
    return end;
  }

  #shown(value: unknown, path: Path): string {
    return written(value, "  ".repeat(Math.max(1, path.length)));
  }

  #put(changes: readonly Change[]): JsonEditor {
    const lineEnd = this.text.includes("\r\n") ? "\r\n" : "\n";
    const last = [...changes].sort((a, b) => b.from - a.from);
    const text = last.reduce(
      (now, { from, to, text: put }) =>
        now.slice(0, from) + put.replaceAll("\n", lineEnd) + now.slice(to),
      this.text,
    );
    return new JsonEditor(text);
  }
}

interface Change {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const endOf = (node: Node) => node.offset + node.length;

/** The blanks at the beginning of the line of a place. */
function indentAt(text: string, offset: number): string {
  const start = text.lastIndexOf("\n", offset - 1) + 1;
  return /^[ \t]*/.exec(text.slice(start, offset))![0];
}

function plainOf(node: Node): unknown {
  if (node.type === "array") return (node.children ?? []).map(plainOf);
  if (node.type !== "object") return node.value;
  const entries = (node.children ?? []).flatMap(({ children: [key, value] = [] }) =>
    key && value ? [[String(key.value), plainOf(value)] as const] : [],
  );
  return Object.fromEntries(entries);
}

/** A value as people write it: on one line where that is short or holds nothing but coordinates. */
export function written(value: unknown, indent: string): string {
  const line = onOneLine(value);
  if (typeof value !== "object" || value === null || line.length <= LINE_MAX) return line;
  if (Array.isArray(value)) {
    if (!value.some((one) => isObject(one))) return line;
    const parts = value.map((one) => `${indent}  ${written(one, `${indent}  `)},`);
    return `[\n${parts.join("\n")}\n${indent}]`;
  }
  // An entry with a geometry stays on one line: its coordinates are not to be read anyway.
  if (JSON.stringify(value).includes('"coordinates"') && !("inputs" in value)) return line;
  const parts = Object.entries(value)
    .filter(([, one]) => one !== undefined)
    .map(([key, one]) => `${indent}  ${jsonText(key)}: ${written(one, `${indent}  `)},`);
  return `{\n${parts.join("\n")}\n${indent}}`;
}

const isObject = (value: unknown) =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function onOneLine(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(onOneLine).join(", ")}]`;
  if (typeof value !== "object" || value === null) return jsonText(value);
  const parts = Object.entries(value)
    .filter(([, one]) => one !== undefined)
    .map(([key, one]) => `${jsonText(key)}: ${onOneLine(one)}`);
  return parts.length > 0 ? `{ ${parts.join(", ")} }` : "{}";
}
