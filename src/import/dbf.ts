import { openDbf } from "shapefile";
import type { FindingList } from "./reader.ts";
import { decodeText } from "./text.ts";

type Row = Record<string, unknown>;

/** Language driver ids of the dBASE header (byte 29) that name a code page, as ESRI and GDAL use. */
const CODE_PAGES: Readonly<Record<number, string>> = {
  3: "windows-1252",
  19: "shift_jis",
  77: "gbk",
  78: "euc-kr",
  79: "big5",
  80: "windows-874",
  87: "windows-1252",
  101: "ibm866",
  200: "windows-1250",
  201: "windows-1251",
  202: "windows-1254",
  203: "windows-1253",
};

/** Field types that the library decodes; others are binary or newer than dBASE IV. */
const TEXT_TYPES = "BCDFLMN";

/** Encoding named in a .cpg file as the decoder knows it; undefined where it is unknown. */
export function encodingFromCpg(text: string): string | undefined {
  const name = text.trim().replace(/^(ansi|oem)\s*/i, "");
  const guess = /^65001$/.test(name)
    ? "utf-8"
    : /^8859[-_ ]?\d+$/.test(name)
      ? `iso-8859-${name.replace(/^8859[-_ ]?/, "")}`
      : /^88591$/.test(name)
        ? "iso-8859-1"
        : /^(932)$/.test(name)
          ? "shift_jis"
          : /^936$/.test(name)
            ? "gbk"
            : /^949$/.test(name)
              ? "euc-kr"
              : /^950$/.test(name)
                ? "big5"
                : /^(cp)?\d{3,4}$/i.test(name)
                  ? name.replace(/^(cp)?12/i, "windows-12").replace(/^(cp)?8/i, "ibm8")
                  : name;
  try {
    return new TextDecoder(guess).encoding;
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

function encodingOf(
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
    const byHeader = CODE_PAGES[dbf[29] ?? 0];
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

/** A copy with unknown field types marked as text, so that the others can be read, and their names. */
function readable(dbf: Uint8Array): { bytes: Uint8Array; unread: string[] } {
  const bytes = dbf.slice();
  const unread: string[] = [];
  const headerBytes = (bytes[8] ?? 0) + 256 * (bytes[9] ?? 0);
  let at = 32;
  while (at + 32 <= headerBytes && at + 32 <= bytes.length && bytes[at] !== 0x0d) {
    if (!TEXT_TYPES.includes(String.fromCharCode(bytes[at + 11]!))) {
      bytes[at + 11] = 0x43;
      const name = bytes.subarray(at, at + 11);
      const end = name.indexOf(0);
      unread.push(new TextDecoder("windows-1252").decode(end < 0 ? name : name.subarray(0, end)));
    }
    at += 32;
  }
  return { bytes, unread };
}

/** Dates as `YYYY-MM-DD`; everything else as it is. */
function plainValue(value: unknown): unknown {
  if (!(value instanceof Date)) return value;
  if (Number.isNaN(value.getTime())) return null;
  const two = (n: number) => String(n).padStart(2, "0");
  return `${value.getFullYear()}-${two(value.getMonth() + 1)}-${two(value.getDate())}`;
}

/**
 * The attribute rows of a .dbf, in record order; undefined (with a finding) where it cannot be read.
 * Encoding: the .cpg file, else the header's code page, else UTF-8 where the bytes are, else
 * Windows-1252.
 */
export async function readDbf(
  dbf: Uint8Array,
  cpg: Uint8Array | undefined,
  findings: FindingList,
  layer: string,
): Promise<Row[] | undefined> {
  const unreadable = (why: string): undefined => {
    findings.add({
      code: "DBF_UNREADABLE",
      severity: "warning",
      layer,
      message: `the .dbf cannot be read (${why}): all attributes are missing`,
      remedy: "Export the layer again, or give roles with --role LAYER=ROLE.",
    });
    return undefined;
  };
  if (dbf.length < 33) return unreadable(`${dbf.length} bytes are less than its header`);
  const encoding = encodingOf(dbf, cpg, findings, layer);
  const { bytes, unread } = readable(dbf);
  const rows: Row[] = [];
  try {
    const source = await openDbf(bytes, { encoding });
    for (let next = await source.read(); !next.done; next = await source.read()) {
      const row: Row = {};
      for (const [name, value] of Object.entries(next.value)) {
        if (!unread.includes(name)) row[name] = plainValue(value);
      }
      rows.push(row);
    }
  } catch (error) {
    return unreadable(error instanceof Error ? error.message : String(error));
  }
  if (unread.length > 0) {
    findings.add({
      code: "DBF_FIELD_NOT_READ",
      severity: "info",
      layer,
      message: `attributes of a type beyond dBASE IV are not read: ${unread.join(", ")}`,
      remedy: "Store them as text or numbers if they matter.",
    });
  }
  return rows;
}
