import { done, failed, type Outcome, type Problem } from "../model/finding.ts";
import { inputProblem, type ReadLimits } from "./reader.ts";
import { decodeText, headOf, isHtml, lineAndColumn } from "./text.ts";

/** Bare NaN and Infinity outside strings, as some programs write them, though JSON has neither. */
function withoutNan(text: string): string {
  return text.replace(/"[^"\\]*(?:\\.[^"\\]*)*"|-?\b(?:NaN|Infinity)\b/g, (token) =>
    token.startsWith('"') ? token : "null",
  );
}

function describe(error: unknown, text: string): string {
  const reason = error instanceof Error ? error.message : String(error);
  if (/end of JSON/i.test(reason)) return "it ends in the middle: the file is cut short";
  const offset = /position (\d+)/.exec(reason)?.[1];
  if (offset === undefined) return reason;
  const { line, column } = lineAndColumn(text, Number(offset));
  const near = text.slice(Number(offset), Number(offset) + 20).split("\n")[0];
  return `line ${line}, column ${column}, near ${JSON.stringify(near)}`;
}

const [QUOTE, BACKSLASH] = [0x22, 0x5c];
const [OPEN_LIST, CLOSE_LIST, OPEN_OBJECT, CLOSE_OBJECT] = [0x5b, 0x5d, 0x7b, 0x7d];

/**
 * True where lists and objects are nested deeper than `most`. One look at each character, before the
 * parser runs, since whatever walks the values afterwards calls itself once a level.
 */
export function isNestedDeeper(text: string, most: number): boolean {
  let depth = 0;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) {
      // To the closing quote: the next one that an even number of backslashes stands before.
      let end = at;
      let escapes = 1;
      while (escapes % 2 === 1) {
        end = text.indexOf('"', end + 1);
        if (end < 0) return false;
        escapes = 0;
        for (let back = end - 1; text.charCodeAt(back) === BACKSLASH; back--) escapes++;
      }
      at = end;
    } else if (code === OPEN_LIST || code === OPEN_OBJECT) {
      if (++depth > most) return true;
    } else if (code === CLOSE_LIST || code === CLOSE_OBJECT) {
      depth--;
    }
  }
  return false;
}

const WEB_PAGE = {
  code: "FILE_IS_WEB_PAGE",
  message: "this is a web page (HTML), not map data: a sign-in or error page may have been saved",
  remedy: "Open it in a browser to see what it says, then download the data itself again.",
};

/** What forbids to parse a text, told by its size and its beginning; undefined where nothing does. */
export function jsonRefusal(
  file: string,
  bytes: Uint8Array,
  limits: ReadLimits,
): Problem | undefined {
  if (bytes.length > limits.textBytesMax) {
    return inputProblem(
      file,
      "FILE_TOO_LARGE",
      `the file is ${bytes.length} bytes long; at most ${limits.textBytesMax} of JSON are read`,
      "Cut it to the site, or convert it to a shapefile, GeoPackage or FlatGeobuf.",
    );
  }
  return isHtml(headOf(bytes))
    ? inputProblem(file, WEB_PAGE.code, WEB_PAGE.message, WEB_PAGE.remedy)
    : undefined;
}

/** That lists and objects are nested too deep to be walked. */
export function tooDeepProblem(file: string, nestingMax: number): Problem {
  return inputProblem(
    file,
    "JSON_TOO_DEEP",
    `its lists and objects are nested more than ${nestingMax} deep, as in no map data`,
    "Export the layer again; if one attribute holds such a value, leave it out.",
  );
}

/** One JSON value; bare NaN and Infinity become null. Throws a SyntaxError where it is none. */
export function jsonValue(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    if (!/\b(?:NaN|Infinity)\b/.test(text)) throw error;
    try {
      return JSON.parse(withoutNan(text)) as unknown;
    } catch {
      throw error; // Something else is wrong too: report the first fault.
    }
  }
}

/** Parses JSON. Bare NaN becomes null, so that only the features that hold it are lost. */
export function parseJson(file: string, bytes: Uint8Array, limits: ReadLimits): Outcome<unknown> {
  const refusal = jsonRefusal(file, bytes, limits);
  if (refusal !== undefined) return failed(refusal);
  const { text } = decodeText(bytes);
  if (isNestedDeeper(text, limits.nestingMax))
    return failed(tooDeepProblem(file, limits.nestingMax));
  try {
    return done(jsonValue(text));
  } catch (error) {
    return failed(
      inputProblem(
        file,
        "JSON_BROKEN",
        `not valid JSON: ${describe(error, text)}`,
        "Export the file again, or open it in a text editor and repair that place.",
      ),
    );
  }
}
