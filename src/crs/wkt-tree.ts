/** Well-known text as a tree: a keyword with names, numbers, bare words and nodes in it. */
export interface WktNode {
  /** In capitals. */
  readonly keyword: string;
  readonly values: readonly (string | number)[];
  readonly nodes: readonly WktNode[];
}

/** Deeper nesting than this is no coordinate reference system. */
const DEPTH_MAX = 40;

const TOKEN = /\s*(?:"((?:[^"]|"")*)"|([[(])|([\])])|(,)|([^\s,[\]()"]+))/y;

/** Parses WKT 1 or 2, with square or round brackets (ISO 19162, clause 6). Undefined where it is none. */
export function parseWkt(text: string): WktNode | undefined {
  TOKEN.lastIndex = 0;
  const stack: { keyword: string; values: (string | number)[]; nodes: WktNode[] }[] = [];
  let word: string | undefined;
  for (;;) {
    const token = TOKEN.exec(text);
    if (token === null) return undefined;
    const [, quoted, open, close, comma, bare] = token;
    const top = stack.at(-1);
    if (open !== undefined) {
      if (word === undefined || stack.length >= DEPTH_MAX) return undefined;
      stack.push({ keyword: word.toUpperCase(), values: [], nodes: [] });
      word = undefined;
      continue;
    }
    if (word !== undefined && (comma !== undefined || close !== undefined)) {
      const number = Number(word);
      top?.values.push(Number.isNaN(number) ? word : number);
      word = undefined;
    }
    if (quoted !== undefined) top?.values.push(quoted.replaceAll('""', '"'));
    if (bare !== undefined) word = bare;
    if (close !== undefined) {
      const node = stack.pop();
      if (node === undefined) return undefined;
      if (stack.length === 0) return node;
      stack.at(-1)!.nodes.push(node);
    }
  }
}

/** The first node of one of these keywords directly in another. */
export function childOf(node: WktNode | undefined, ...keywords: string[]): WktNode | undefined {
  return node?.nodes.find(({ keyword }) => keywords.includes(keyword));
}

/** The first node of one of these keywords anywhere below another, itself included. */
export function findNode(node: WktNode, ...keywords: string[]): WktNode | undefined {
  if (keywords.includes(node.keyword)) return node;
  for (const inner of node.nodes) {
    const found = findNode(inner, ...keywords);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The first number in a node. */
export function numberIn(node: WktNode | undefined): number | undefined {
  return node?.values.find((value): value is number => typeof value === "number");
}

/** The name of a node: its first text. */
export function nameOf(node: WktNode | undefined): string {
  const value = node?.values[0];
  return typeof value === "string" ? value : "";
}
