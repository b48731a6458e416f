import { REPLACEMENT } from "./hidden.ts";

/** Controls other than tab and line ends, lone surrogates, noncharacters: parse errors in HTML. */
const NO_TEXT = /(?![\t\n\f\r])[\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}]/gu;

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
  "`": "&#96;",
  "=": "&#61;",
  "\r": "&#13;",
};

/**
 * Text between tags of HTML (OWASP Cross Site Scripting Prevention, rule 1). Not for `script` and
 * `style` elements, where entities are not read: see `jsonInScript`.
 */
export function htmlText(text: string): string {
  return text.replace(NO_TEXT, REPLACEMENT).replace(/[&<>"'\r]/g, (char) => ENTITIES[char]!);
}

/**
 * Text of an HTML attribute between quotes (the same, rule 2). Not for attributes that are run or
 * followed, such as `onclick`, `style` and `href`: text from a file does not belong there.
 */
export function htmlAttribute(text: string): string {
  return text.replace(NO_TEXT, REPLACEMENT).replace(/[&<>"'`=\r]/g, (char) => ENTITIES[char]!);
}
