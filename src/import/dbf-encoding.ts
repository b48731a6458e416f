import { DOS_CODE_PAGES } from "./code-pages.data.ts";
import type { FindingList } from "./reader.ts";
import { decodeText } from "./text.ts";

/**
 * Text encodings by the language driver id of the dBASE header (byte 29), as ESRI's ArcPad reference
 * lists them and GDAL's shapefile driver reads them; names as the web platform has them, or `cp…`.
 */
const BY_DRIVER: Readonly<Record<string, readonly number[]>> = {
  cp437: [1, 9, 11, 13, 15, 17, 21, 24, 25, 27],
  cp850: [2, 10, 14, 16, 18, 20, 22, 26, 29, 37, 55],
  "windows-1252": [3, 87, 88, 89],
  macintosh: [4],
  cp865: [8, 23, 102],
  shift_jis: [19, 123],
  cp863: [28, 108],
  cp852: [31, 34, 35, 64, 100, 135],
  cp860: [36],
  ibm866: [38, 101],
  gbk: [77, 122],
  "euc-kr": [78, 121],
  big5: [79, 120],
  "windows-874": [80, 124],
  cp861: [103],
  cp737: [106, 134],
  cp857: [107, 136],
  "x-mac-cyrillic": [150],
  "windows-1250": [200],
  "windows-1251": [201],
  "windows-1254": [202],
  "windows-1253": [203],
  "windows-1257": [204],
};

/** Names by number where the web platform has another one (Microsoft's numbers of code pages). */
const BY_NUMBER: Readonly<Record<string, string>> = {
  "65001": "utf-8",
  "932": "shift_jis",
  "936": "gbk",
  "949": "euc-kr",
  "950": "big5",
  "874": "windows-874",
  "866": "ibm866",
  "88591": "iso-8859-1",
  "10000": "macintosh",
};

/** Encoding of the language driver byte; undefined where it names none. */
export function encodingOfDriver(driver: number): string | undefined {
  return Object.entries(BY_DRIVER).find(([, ids]) => ids.includes(driver))?.[0];
}

/** Encoding named in a .cpg file, as a decoder's name or `cp…`; undefined where it is unknown. */
export function encodingFromCpg(text: string): string | undefined {
  const name = text.trim().replace(/^(ansi|oem)\s*/i, "");
  const number = /^(?:cp|ibm|windows-)?(\d+)$/i.exec(name)?.[1];
  const iso = /^8859[-_ ]?(\d{1,2})$/.exec(name)?.[1];
  if (number !== undefined && DOS_CODE_PAGES[`cp${number}`] !== undefined) return `cp${number}`;
  const label =
    (number !== undefined ? BY_NUMBER[number] : undefined) ??
    (iso !== undefined ? `iso-8859-${iso}` : undefined) ??
    (number !== undefined && /^125\d$/.test(number) ? `windows-${number}` : name);
  try {
    return new TextDecoder(label).encoding;
  } catch {
    return undefined;
  }
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

/**
 * How the attributes are encoded: by the .cpg file, else the header's language driver, else UTF-8
 * where the bytes are that, else Windows-1252 (with a finding where it is a guess).
 */
export function encodingOf(
  dbf: Uint8Array,
  cpg: Uint8Array | undefined,
  findings: FindingList,
  layer: string,
): string {
  const records = dbf.subarray((dbf[8] ?? 0) + 256 * (dbf[9] ?? 0));
  if (cpg !== undefined) {
    const text = decodeText(cpg).text.trim();
    const named = encodingFromCpg(text);
    if (named !== undefined) return named;
    findings.add({
      code: "ENCODING_UNKNOWN",
      severity: "warning",
      layer,
      message: `the .cpg file names an unknown text encoding, ${JSON.stringify(text.slice(0, 40))}`,
      remedy: "Write UTF-8 or the right code page into the .cpg file if names look wrong.",
    });
  } else {
    const byHeader = encodingOfDriver(dbf[29] ?? 0);
    if (byHeader !== undefined) return byHeader;
  }
  if (records.every((byte) => byte < 0x80)) return "windows-1252";
  const assumed = isUtf8(records) ? "utf-8" : "windows-1252";
  findings.add({
    code: "ENCODING_ASSUMED",
    severity: "info",
    layer,
    message: `no .cpg file says how the attributes are encoded; ${assumed} is assumed`,
    remedy: "Put a .cpg file with the encoding's name beside the .shp if names look wrong.",
  });
  return assumed;
}

/** The library's decoder for it: a DOS code page is read byte by byte (U+F780 and up) and mapped after. */
export function decoderLabel(encoding: string): string {
  return DOS_CODE_PAGES[encoding] === undefined ? encoding : "x-user-defined";
}

/** A text as the library decoded it, with the letters of a DOS code page put in place. */
export function mappedText(text: string, encoding: string): string {
  const page = DOS_CODE_PAGES[encoding];
  return page === undefined
    ? text
    : text.replace(/[\uF780-\uF7FF]/g, (letter) => page[letter.charCodeAt(0) - 0xf780]!);
}
