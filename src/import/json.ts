import { done, failed, type Outcome } from "../model/finding.ts";
import { inputProblem } from "./reader.ts";
import { decodeText, isHtml, lineAndColumn } from "./text.ts";

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

/** Parses JSON. Bare NaN becomes null, so that only the features that hold it are lost. */
export function parseJson(file: string, bytes: Uint8Array): Outcome<unknown> {
  const { text } = decodeText(bytes);
  if (isHtml(text)) {
    return failed(
      inputProblem(
        file,
        "FILE_IS_WEB_PAGE",
        "this is a web page (HTML), not map data: a sign-in or error page may have been saved",
        "Open it in a browser to see what it says, then download the data itself again.",
      ),
    );
  }
  try {
    return done(JSON.parse(text) as unknown);
  } catch (error) {
    if (/\b(?:NaN|Infinity)\b/.test(text)) {
      try {
        return done(JSON.parse(withoutNan(text)) as unknown);
      } catch {
        // Something else is wrong too: report the first fault.
      }
    }
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
