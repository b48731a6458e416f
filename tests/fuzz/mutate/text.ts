/** Mutations of text in any format: numbers, words of a dictionary, lines, nesting, encodings. */
import type { Chance } from "../random.ts";
import { BYTES_MAX } from "./bytes.ts";

export type TextMutation = (
  text: string,
  chance: Chance,
  other: string,
  words: readonly string[],
) => string;

/** Spellings of numbers that readers trip over. */
export const NUMBERS = [
  "0",
  "-0",
  "1e999",
  "-1e999",
  "1e308",
  "1e-320",
  "NaN",
  "Infinity",
  "-Infinity",
  "1e22",
  "99999999999999999999",
  "0x10",
  "1,5",
  "1.2.3",
  "+1",
  ".5",
  "5.",
  "1e",
  "--1",
  "١٢",
  "180",
  "-180.0000001",
  "90",
  "91",
  "360",
  "2147483648",
  "9007199254740993",
  "1e-9",
  "",
  "null",
] as const;

/** Words that are hostile wherever they stand. */
const HOSTILE = [
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty",
  "\u0000",
  "\uFEFF",
  "\uD800",
  "\u202E",
  "\u001B[31m",
  "=1+1",
  "<script>alert(1)</script>",
  "&lt;&amp;&#0;&#xD800;",
  "]]>",
  "<!--",
  "-->",
  "<![CDATA[",
  "'\"`",
  "../../etc",
  "%s%n",
  "\r\n\r\n",
  "\\u0000",
  "𝒳é漢",
] as const;

const replaceNumber: TextMutation = (text, chance) => {
  const numbers = [...text.matchAll(/-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/g)];
  if (numbers.length === 0) return text;
  const { index, 0: old } = chance.pick(numbers);
  const fresh = chance.oneIn(3)
    ? String(Number(old) + (chance.next() - 0.5) * 10 ** (chance.int(12) - 8))
    : chance.oneIn(3)
      ? chance.pick(numbers)[0]
      : chance.pick(NUMBERS);
  return text.slice(0, index) + fresh + text.slice(index + old.length);
};

const insertWord: TextMutation = (text, chance, _, words) => {
  const word = chance.oneIn(3) ? chance.pick(HOSTILE) : chance.pick(words);
  const at = chance.int(text.length + 1);
  const over = chance.oneIn(3) ? word.length : 0;
  return text.slice(0, at) + word + text.slice(at + over);
};

/** A word of the text in place of another, or one of the dictionary. */
const swapWords: TextMutation = (text, chance, _, words) => {
  const found = [...text.matchAll(/[A-Za-z_$:][\w:.-]*/g)];
  if (found.length === 0) return text;
  const { index, 0: old } = chance.pick(found);
  const fresh = chance.oneIn(2)
    ? chance.pick(found)[0]
    : chance.pick(chance.oneIn(4) ? HOSTILE : words);
  return text.slice(0, index) + fresh + text.slice(index + old.length);
};

const PUNCTUATION = /[{}[\]()<>"',;:=/\\|\t\n]/g;

const changePunctuation: TextMutation = (text, chance) => {
  const marks = [...text.matchAll(PUNCTUATION)];
  if (marks.length === 0) return text;
  const { index } = chance.pick(marks);
  const fresh = chance.pick(["", "", ..."{}[]()<>\"',;:=/\\|\t\n", "\r", "\u00a0"]);
  return text.slice(0, index) + fresh + text.slice(index + 1);
};

const linesOf = (text: string): string[] => text.split(/(?<=\n)/);

const changeLines: TextMutation = (text, chance, other) => {
  const lines = linesOf(text);
  const at = chance.int(lines.length);
  const line = lines[at]!;
  switch (chance.int(5)) {
    case 0:
      lines.splice(at, chance.size(8));
      break;
    case 1:
      lines.splice(at, 0, ...Array<string>(chance.size(chance.oneIn(20) ? 4000 : 8)).fill(line));
      break;
    case 2:
      lines.splice(chance.int(lines.length), 0, ...lines.splice(at, chance.size(8)));
      break;
    case 3:
      lines.splice(at, 0, chance.pick(linesOf(other)));
      break;
    default:
      lines[at] = line.trimEnd();
  }
  return lines.join("");
};

const NESTS: readonly (readonly [string, string])[] = [
  ["[", "]"],
  ['{"a":', "}"],
  ["<Folder>", "</Folder>"],
  ["<MultiGeometry>", "</MultiGeometry>"],
  ["(", ")"],
  ['A["b",', "]"],
  ['{"type":"GeometryCollection","geometries":[', "]}"],
];

/** A stretch of text many levels deep in brackets or tags, closed or not. */
const nest: TextMutation = (text, chance) => {
  const [open, close] = chance.pick(NESTS);
  const deep = chance.size(chance.oneIn(10) ? 8000 : 400);
  const from = chance.int(text.length + 1);
  const to = from + chance.size(200);
  const end = chance.oneIn(3) ? "" : close.repeat(deep);
  return text.slice(0, from) + open.repeat(deep) + text.slice(from, to) + end + text.slice(to);
};

/** A number or word of great length. */
const lengthen: TextMutation = (text, chance) => {
  const at = chance.int(text.length + 1);
  const fill = chance.pick(["9", "a", " ", "\n", "0", "é", '"', "\\", ",", "<a>", "&amp;"]);
  return text.slice(0, at) + fill.repeat(chance.size(20_000)) + text.slice(at);
};

const changeCase: TextMutation = (text, chance) => {
  const from = chance.int(text.length);
  const to = from + chance.size(text.length);
  const part = text.slice(from, to);
  return (
    text.slice(0, from) +
    (chance.oneIn(2) ? part.toUpperCase() : part.toLowerCase()) +
    text.slice(to)
  );
};

const spliceText: TextMutation = (text, chance, other) =>
  text.slice(0, chance.int(text.length)) + other.slice(chance.int(other.length));

export const TEXT_MUTATIONS: readonly TextMutation[] = [
  replaceNumber,
  replaceNumber,
  replaceNumber,
  insertWord,
  insertWord,
  swapWords,
  swapWords,
  changePunctuation,
  changeLines,
  changeLines,
  nest,
  lengthen,
  changeCase,
  spliceText,
];

/** The text as bytes; now and then in another encoding, with a mark or with broken sequences. */
export function encoded(text: string, chance: Chance): Uint8Array {
  const short = text.length > BYTES_MAX ? text.slice(0, BYTES_MAX) : text;
  if (!chance.oneIn(12)) return new TextEncoder().encode(short);
  switch (chance.int(6)) {
    case 0:
      return new Uint8Array(Buffer.from(`\uFEFF${short}`, "utf16le"));
    case 1:
      return new Uint8Array(Buffer.from(`\uFEFF${short}`, "utf16le").swap16());
    case 2:
      return new Uint8Array(Buffer.from(short, "utf16le"));
    case 3:
      return new Uint8Array(Buffer.from(short, "latin1"));
    case 4:
      return new Uint8Array(Buffer.from(`\uFEFF${short}`, "utf8"));
    default:
      return new TextEncoder().encode(short.replaceAll("\n", chance.pick(["\r", "\r\n", "\n\r"])));
  }
}
