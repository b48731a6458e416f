import {
  createScanner,
  findNodeAtLocation,
  type Node,
  type ParseError,
  parseTree,
  printParseErrorCode,
} from "jsonc-parser";

/** A mistake in a file, with where it stands. */
export interface Mistake {
  /** Keys and indexes from the root, e.g. `["lawns", "least_area_m2"]`. */
  readonly path: readonly (string | number)[];
  /** 1-based. */
  readonly line: number;
  readonly message: string;
  /** Nearest right name, where there is one. */
  readonly near?: string | undefined;
}

/** Deeper than any site file; keeps hostile nesting from exhausting the parser's stack. */
const DEPTH_MAX = 100;

/** A parsed text that knows on which line each value stands. */
export interface JsonText {
  readonly value: unknown;
  /** 1-based line of the value at a path, or of the nearest one round it that exists. */
  lineOf(path: readonly (string | number)[], key?: string): number;
}

/**
 * JSON with comments and trailing commas. Keys that stand twice and the key `__proto__`, which
 * could hide one another, are mistakes.
 */
export function parseJsonText(text: string): JsonText | Mistake[] {
  const source = text.replace(/^\uFEFF/, "");
  const lines = lineStarts(source);
  const lineAt = (offset: number) => lineOfOffset(lines, offset);
  const deep = tooDeep(source);
  if (deep !== undefined) {
    const message = `nested more than ${DEPTH_MAX} deep`;
    return [{ path: [], line: lineAt(deep), message }];
  }
  const errors: ParseError[] = [];
  const root = parseTree(source, errors, { allowTrailingComma: true, disallowComments: false });
  if (!root || errors.length > 0) {
    return errors.slice(0, 5).map(({ error, offset }) => ({
      path: [],
      line: lineAt(offset),
      message: inWords(printParseErrorCode(error)),
    }));
  }
  const mistakes: Mistake[] = [];
  const value = plainValue(root, [], mistakes, lineAt);
  if (mistakes.length > 0) return mistakes;
  return {
    value,
    lineOf: (path, key) => {
      const holder = nodeAt(root, path);
      const property = key === undefined ? undefined : propertyOf(holder, key);
      return lineAt((property ?? holder).offset);
    },
  };
}

function nodeAt(root: Node, path: readonly (string | number)[]): Node {
  for (let length = path.length; length > 0; length--) {
    const node = findNodeAtLocation(root, path.slice(0, length));
    if (node) return node;
  }
  return root;
}

function propertyOf(node: Node, key: string): Node | undefined {
  return node.children?.find((child) => child.children?.[0]?.value === key);
}

function plainValue(
  node: Node,
  path: readonly (string | number)[],
  mistakes: Mistake[],
  lineAt: (offset: number) => number,
): unknown {
  if (node.type === "array") {
    return (node.children ?? []).map((child, i) =>
      plainValue(child, [...path, i], mistakes, lineAt),
    );
  }
  if (node.type !== "object") return node.value;
  const result: Record<string, unknown> = {};
  for (const property of node.children ?? []) {
    const [keyNode, valueNode] = property.children ?? [];
    if (!keyNode || !valueNode) continue;
    const key: string = keyNode.value;
    const where = { path: [...path, key], line: lineAt(property.offset) };
    if (key === "__proto__") mistakes.push({ ...where, message: "is no key that may stand here" });
    else if (Object.hasOwn(result, key)) mistakes.push({ ...where, message: "stands here twice" });
    else result[key] = plainValue(valueNode, where.path, mistakes, lineAt);
  }
  return result;
}

/** Kinds of token by number, as the scanner's documentation has them (SyntaxKind). */
const TOKEN = { openBrace: 1, closeBrace: 2, openBracket: 3, closeBracket: 4, end: 17 };

/** Where the text first nests too deep. */
function tooDeep(text: string): number | undefined {
  const scanner = createScanner(text, true);
  let depth = 0;
  for (let token: number = scanner.scan(); token !== TOKEN.end; token = scanner.scan()) {
    if (token === TOKEN.openBrace || token === TOKEN.openBracket) depth++;
    if (token === TOKEN.closeBrace || token === TOKEN.closeBracket) depth--;
    if (depth > DEPTH_MAX) return scanner.getTokenOffset();
  }
  return undefined;
}

/** `CommaExpected` as people say it: `comma expected`. */
function inWords(code: string): string {
  return code.replace(/(?<=.)([A-Z])/g, " $1").toLowerCase();
}

function lineStarts(text: string): number[] {
  const starts = [0];
  for (const match of text.matchAll(/\r\n|\n|\r/g)) starts.push(match.index + match[0].length);
  return starts;
}

function lineOfOffset(starts: readonly number[], offset: number): number {
  let [low, high] = [0, starts.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (starts[middle]! <= offset) low = middle;
    else high = middle - 1;
  }
  return low + 1;
}
