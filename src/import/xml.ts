import { DOMParser, type Document } from "@xmldom/xmldom";
import { done, failed, type Outcome } from "../model/finding.ts";
import { FindingList, inputProblem, type ReadLimits } from "./reader.ts";
import { afterProlog, decodeText, isHtml, lineAndColumn } from "./text.ts";

/** A document type before the root element: KML has none, and entities in it can explode. */
function hasDoctype(text: string): boolean {
  const start = afterProlog(text);
  return /^<!DOCTYPE/i.test(text.slice(start, start + 9));
}

/** Deepest nesting of elements, by their tags alone; stops counting past `most`. */
function nestingOf(text: string, most: number): number {
  let depth = 0;
  let deepest = 0;
  for (let at = text.indexOf("<"); at >= 0 && deepest <= most; at = text.indexOf("<", at)) {
    const close = text.startsWith("<!--", at)
      ? "-->"
      : text.startsWith("<![CDATA[", at)
        ? "]]>"
        : ">";
    const end = text.indexOf(close, at + 1);
    if (end < 0) break;
    const next = text[at + 1];
    if (next === "/") depth--;
    else if (next !== "!" && next !== "?" && text[end - 1] !== "/")
      deepest = Math.max(deepest, ++depth);
    at = end + close.length;
  }
  return deepest;
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
  const declared = new Set<string>();
  for (const match of text.matchAll(/xmlns:([\w.-]+)\s*=/g)) declared.add(match[1]!);
  const missing = [...used].filter((prefix) => !/^xml/i.test(prefix) && !declared.has(prefix));
  if (missing.length === 0) return text;
  const declarations = missing.map((prefix) => ` xmlns:${prefix}="urn:undeclared:${prefix}"`);
  return text.replace(/<([A-Za-z_][\w:.-]*)/, (root) => root + declarations.join(""));
}

/**
 * Parses XML that is to be trusted with nothing: no document type, no entities of its own, no
 * nesting beyond what any step after it can walk, no more than it can hold as a tree.
 */
export function parseXml(file: string, bytes: Uint8Array, limits: ReadLimits): Outcome<Document> {
  const fail = (code: string, message: string, remedy: string) =>
    failed<Document>(inputProblem(file, code, message, remedy));
  if (bytes.length > limits.xmlBytesMax) {
    return fail(
      "FILE_TOO_LARGE",
      `the XML is ${bytes.length} bytes long; at most ${limits.xmlBytesMax} are read`,
      "Save the shapes of this site alone, or convert them to GeoJSON, a shapefile or a GeoPackage.",
    );
  }
  const text = textOf(bytes).replace(/^\uFEFF?\s*/, "");
  if (isHtml(text)) {
    return fail(
      "FILE_IS_WEB_PAGE",
      "this is a web page (HTML), not map data: a sign-in or error page may have been saved",
      "Open it in a browser to see what it says, then download the data itself again.",
    );
  }
  if (!text.startsWith("<")) {
    return fail("NOT_XML", "not XML: it does not begin with <", "Export the file again.");
  }
  if (hasDoctype(text)) {
    return fail(
      "XML_DOCTYPE",
      "the file has a document type declaration (<!DOCTYPE …>), which map data has no use for and which can be made to fill the memory",
      "Remove the <!DOCTYPE …> part with a text editor, or export the file again.",
    );
  }
  if (nestingOf(text, limits.nestingMax) > limits.nestingMax) {
    return fail(
      "XML_TOO_DEEP",
      `its elements are nested more than ${limits.nestingMax} deep, as in no map data`,
      "Export the file again with fewer folders inside one another.",
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
        message: `the XML breaks the rules in ${irregular.length} place(s), the first at ${irregular[0]!.slice(0, 300)}; it was read all the same`,
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
    `the XML cannot be read: ${fatal?.slice(0, 300) ?? "it has no root element"} (the file has ${end} lines; it may be cut short)`,
    "Download or export the file again.",
  );
}
