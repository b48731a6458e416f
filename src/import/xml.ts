import { DOMParser, type Document } from "@xmldom/xmldom";
import { done, failed, type Outcome } from "../model/finding.ts";
import { FindingList, inputProblem } from "./reader.ts";
import { decodeText, isHtml, lineAndColumn } from "./text.ts";

/** A document type before the root element: KML has none, and entities in it can explode. */
function hasDoctype(text: string): boolean {
  return /^\s*(?:<\?[\s\S]*?\?>\s*|<!--[\s\S]*?-->\s*)*<!DOCTYPE/i.test(text);
}

/** Encoding named in the XML declaration, where it is not UTF-8. */
function declaredEncoding(bytes: Uint8Array): string | undefined {
  const head = new TextDecoder("windows-1252").decode(bytes.subarray(0, 200));
  const name = /^[^<]*<\?xml[^>]*encoding\s*=\s*["']([\w.:-]+)["']/i.exec(head)?.[1];
  return name === undefined || /^utf-?(8|16)$/i.test(name) ? undefined : name;
}

function textOf(bytes: Uint8Array): string {
  const encoding = declaredEncoding(bytes);
  if (encoding !== undefined) {
    try {
      return new TextDecoder(encoding).decode(bytes);
    } catch {
      // An encoding that nobody knows: decide by the bytes.
    }
  }
  return decodeText(bytes).text;
}

/** Prefixes in use that nobody declared are declared on the root, as many writers forget to. */
function withDeclaredPrefixes(text: string): string {
  const used = new Set<string>();
  for (const match of text.matchAll(/<\/?([A-Za-z_][\w.-]*):[A-Za-z_]/g)) used.add(match[1]!);
  for (const match of text.matchAll(/\s([A-Za-z_][\w.-]*):[\w.-]+\s*=\s*["']/g)) {
    used.add(match[1]!);
  }
  const missing = [...used].filter(
    (prefix) => !/^xml/i.test(prefix) && !new RegExp(`xmlns:${prefix}\\s*=`).test(text),
  );
  if (missing.length === 0) return text;
  const declarations = missing.map((prefix) => ` xmlns:${prefix}="urn:undeclared:${prefix}"`);
  return text.replace(/<([A-Za-z_][\w:.-]*)/, (root) => root + declarations.join(""));
}

/** Parses XML that is to be trusted with nothing: no document type, no entities of its own. */
export function parseXml(file: string, bytes: Uint8Array): Outcome<Document> {
  const text = textOf(bytes).replace(/^\uFEFF?\s*/, "");
  const fail = (code: string, message: string, remedy: string) =>
    failed<Document>(inputProblem(file, code, message, remedy));
  if (isHtml(text)) {
    return fail(
      "FILE_IS_WEB_PAGE",
      "this is a web page (HTML), not map data: a sign-in or error page may have been saved",
      "Open it in a browser to see what it says, then download the data itself again.",
    );
  }
  if (!text.startsWith("<")) {
    return fail("NOT_XML", "not XML: it does not begin with <", "Export the file as KML again.");
  }
  if (hasDoctype(text)) {
    return fail(
      "XML_DOCTYPE",
      "the file has a document type declaration (<!DOCTYPE …>), which KML has no use for and which can be made to fill the memory",
      "Remove the <!DOCTYPE …> part with a text editor, or export the file again.",
    );
  }
  const findings = new FindingList(file);
  let fatal: string | undefined;
  const irregular: string[] = [];
  try {
    const document = new DOMParser({
      onError: (level, message, context) => {
        const line = (context as { locator?: { lineNumber?: number } } | undefined)?.locator
          ?.lineNumber;
        const short = message.split("\n")[0]!;
        const placed = line === undefined ? short : `line ${line}: ${short}`;
        if (level === "fatalError") fatal ??= placed;
        else irregular.push(placed);
      },
    }).parseFromString(withDeclaredPrefixes(text), "text/xml");
    if (irregular.length > 0) {
      findings.add({
        code: "XML_IRREGULAR",
        severity: "warning",
        message: `the XML breaks the rules in ${irregular.length} place(s), the first at ${irregular[0]}; it was read all the same`,
        remedy:
          "Compare the number of shapes with the source; export the file again if it differs.",
      });
    }
    if (fatal === undefined && document.documentElement) return done(document, findings.all);
  } catch (error) {
    fatal ??= error instanceof Error ? error.message.split("\n")[0] : String(error);
  }
  const end = lineAndColumn(text, text.length).line;
  return fail(
    "XML_BROKEN",
    `the XML cannot be read: ${fatal ?? "it has no root element"} (the file has ${end} lines; it may be cut short)`,
    "Download or export the file again.",
  );
}
