import { REPLACEMENT } from "./hidden.ts";

/**
 * What is no `Char` of XML 1.0 (fifth edition, section 2.2) cannot stand in a document even as a
 * number: most controls, lone surrogates, U+FFFE and U+FFFF.
 */
const NO_CHAR = /[^\t\n\r\x20-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&apos;",
};

/** Text between tags of XML and SVG. A carriage return as a number, as parsers make a line feed of it. */
export function xmlText(text: string): string {
  return text
    .replace(NO_CHAR, REPLACEMENT)
    .replace(/[&<>]/g, (char) => ENTITIES[char]!)
    .replace(/[\r\u0085\u2028\u2029]/g, numbered);
}

/** Text of an attribute of XML and SVG, between quotes of either kind. Breaks as numbers: they stay. */
export function xmlAttribute(text: string): string {
  return text
    .replace(NO_CHAR, REPLACEMENT)
    .replace(/[&<>"']/g, (char) => ENTITIES[char]!)
    .replace(/[\t\n\r\u0085\u2028\u2029]/g, numbered);
}

const numbered = (char: string) => `&#${char.charCodeAt(0)};`;
