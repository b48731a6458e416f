import { isActing } from "./hidden.ts";

/**
 * JSON whose text shows what it is wherever it is printed: what acts rather than shows (controls,
 * turned writing, what is invisible) is written as `\uXXXX`. Any parser reads the same value.
 */
export function jsonText(value: unknown, indent?: number): string {
  return writtenAsNumbers(JSON.stringify(value, null, indent), isActing);
}

/**
 * JSON to stand inside an HTML `script` element (HTML Living Standard, 4.12.1.3): no `<` that could
 * end the element or begin a comment in it, no `&` for parsers of XML, no U+2028 and U+2029.
 */
export function jsonInScript(value: unknown): string {
  return writtenAsNumbers(JSON.stringify(value), (char) => "<>&".includes(char) || isActing(char));
}

/** Outside strings JSON holds line feeds and ASCII only; inside them line feeds are escaped already. */
function writtenAsNumbers(json: string, isWritten: (char: string) => boolean): string {
  return json.replace(/[<>&]|[^\n\x20-\x7e]/gu, (char) =>
    isWritten(char) ? char.split("").map(asNumber).join("") : char,
  );
}

const asNumber = (unit: string) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`;
