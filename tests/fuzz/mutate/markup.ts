/** Mutations of XML by its elements, of drawings by their groups, of WKT by its nodes, of tables by cells. */
import type { Chance } from "../random.ts";
import { NUMBERS, type TextMutation } from "./text.ts";

interface Span {
  readonly from: number;
  readonly to: number;
}

/** Elements with their ends, by a stack of tags; tags that do not match are passed over. */
function elementsOf(text: string): Span[] {
  const spans: Span[] = [];
  const open: { name: string; from: number }[] = [];
  for (const match of text.matchAll(/<(\/?)([A-Za-z][\w:.-]*)[^<>]*?(\/?)>/g)) {
    const [whole, end, name, self] = match;
    const to = match.index + whole.length;
    if (self) spans.push({ from: match.index, to });
    else if (!end) open.push({ name: name!, from: match.index });
    else if (open.at(-1)?.name === name) spans.push({ from: open.pop()!.from, to });
  }
  return spans;
}

/** WKT nodes: `WORD[…]`, brackets matched. */
function nodesOf(text: string): Span[] {
  const spans: Span[] = [];
  const open: number[] = [];
  for (const match of text.matchAll(/([A-Za-z_]\w*)?\s*[[(]|[\])]/g)) {
    if (/[\])]/.test(match[0])) {
      const from = open.pop();
      if (from !== undefined) spans.push({ from, to: match.index + 1 });
    } else open.push(match.index);
  }
  return spans;
}

function changeSpans(
  text: string,
  other: string,
  spansOf: (text: string) => Span[],
  wrap: readonly [string, string],
  chance: Chance,
): string {
  const spans = spansOf(text);
  if (spans.length === 0) return text;
  const { from, to } = chance.pick(spans);
  const part = text.slice(from, to);
  const around = (fresh: string) => text.slice(0, from) + fresh + text.slice(to);
  const second = chance.pick(spans);
  const theirs = spansOf(other);
  switch (chance.int(6)) {
    case 0:
      return around("");
    case 1:
      return around(part.repeat(1 + chance.size(chance.oneIn(20) ? 500 : 4)));
    case 2:
      return around(text.slice(second.from, second.to));
    case 3: {
      if (theirs.length === 0) return text;
      const their = chance.pick(theirs);
      return around(part + other.slice(their.from, their.to));
    }
    case 4: {
      const deep = chance.size(300);
      return around(wrap[0].repeat(deep) + part + wrap[1].repeat(deep));
    }
    default: {
      const moved = around("");
      const at = Math.min(second.from, moved.length);
      return moved.slice(0, at) + part + moved.slice(at);
    }
  }
}

/** An element left out, repeated, put elsewhere, replaced, wrapped. */
export const changeElements: TextMutation = (text, chance, other) => {
  const tag = chance.pick(["Folder", "MultiGeometry", "Document", "trkseg", "x", "coordinates"]);
  return changeSpans(text, other, elementsOf, [`<${tag}>`, `</${tag}>`], chance);
};

/** A WKT node left out, repeated, put elsewhere, replaced, wrapped. */
export const changeNodes: TextMutation = (text, chance, other) =>
  changeSpans(text, other, nodesOf, ["BOUNDCRS[", "]"], chance);

const GROUP_CODES =
  "0 1 2 3 5 6 8 9 10 20 30 11 21 40 41 42 43 50 62 66 67 70 71 72 73 74 91 92 93 94 95 96 97 98 100 101 210 220 230 1001".split(
    " ",
  );

/** Groups (code and value) of a drawing left out, repeated, moved, with another code or value. */
export const changeGroups: TextMutation = (text, chance, other, words) => {
  const lines = text.split("\n");
  const at = 2 * chance.int(lines.length >> 1);
  const length = 2 * chance.size(24);
  switch (chance.int(7)) {
    case 0:
      lines.splice(at, length);
      break;
    case 1: {
      const part = lines.slice(at, at + length);
      for (let n = chance.size(chance.oneIn(20) ? 500 : 6); n > 0; n--)
        lines.splice(at, 0, ...part);
      break;
    }
    case 2:
      lines[at] = chance.pick(GROUP_CODES);
      break;
    case 3:
      lines[at + 1] = chance.oneIn(2) ? chance.pick(words) : chance.pick(NUMBERS);
      break;
    case 4:
      lines[at + 1] = lines[2 * chance.int(lines.length >> 1) + 1] ?? "";
      break;
    case 5:
      lines.splice(2 * chance.int(lines.length >> 1), 0, ...lines.splice(at, length));
      break;
    default: {
      const theirs = other.split("\n");
      const from = 2 * chance.int(theirs.length >> 1);
      lines.splice(at, 0, ...theirs.slice(from, from + length));
    }
  }
  return lines.join("\n");
};

/** Cells of a table left out, exchanged, added, with another value. */
export const changeCells: TextMutation = (text, chance, _, words) => {
  const lines = text.split("\n");
  const row = chance.int(lines.length);
  const sep = chance.pick([";", ",", "\t", lines[1]?.includes("\t") ? "\t" : ";"]);
  const cells = (lines[row] ?? "").split(sep);
  const at = chance.int(cells.length);
  switch (chance.int(5)) {
    case 0:
      cells.splice(at, 1);
      break;
    case 1:
      cells[at] = chance.pick(words);
      break;
    case 2:
      cells[at] = chance.pick(NUMBERS);
      break;
    case 3:
      cells.splice(at, 0, ...Array<string>(chance.size(200)).fill(cells[at]!));
      break;
    default:
      cells[at] = cells[chance.int(cells.length)]!;
  }
  lines[row] = cells.join(sep);
  return lines.join("\n");
};
