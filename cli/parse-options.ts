import { isWkt } from "../src/crs/wkt.ts";
import { FORMAT_NAMES, type FormatName } from "../src/export/exchange/formats.ts";
import { type OutCrs, SITE_GRID } from "../src/export/exchange/out-crs.ts";
import {
  LANGUAGES,
  type Language,
  LENGTH_UNITS,
  type LengthUnit,
  LISTS,
  type ListName,
} from "../src/model/hand-over-options.ts";
import { PARTS_CHOICES, type PartsChoice } from "../src/model/plan.ts";
import { ROLES, type Role } from "../src/model/roles.ts";
import { PAPER_NAMES, type PaperName, SCALES } from "../src/model/sheet.ts";
import { nearestName } from "../src/profile/nearest-name.ts";
import { misuse } from "./refusal.ts";

/** The value of an option that takes any text: not another option, which is a value forgotten. */
export function parseValue(text: string): string {
  if (text !== "" && !text.startsWith("--")) return text;
  throw misuse(
    "OPTION_VALUE_MISSING",
    `An option is followed by ${text === "" ? "nothing" : text} where its value should stand.`,
    "Give the value after the option; write ./--name for a file whose name begins with --.",
  );
}

/** Number of an EPSG code as people write it: `EPSG:27700`, `epsg:27700`, `27700`. */
export function parseCrs(text: string): number {
  const match = /^\s*(?:epsg:{1,2})?(\d{4,6})\s*$/i.exec(text);
  if (match) return Number(match[1]);
  throw misuse(
    "CRS_OPTION_INVALID",
    `--crs ${text} is not an EPSG code.`,
    "Write it like --crs EPSG:27700.",
  );
}

/** One `--role LAYER=ROLE`, added to those before it. The last `=` divides. */
export function parseRole(
  text: string,
  before: Readonly<Record<string, Role>> = {},
): Readonly<Record<string, Role>> {
  const cut = text.lastIndexOf("=");
  const layer = text.slice(0, cut).trim();
  const role = text
    .slice(cut + 1)
    .trim()
    .toLowerCase();
  if (cut < 1 || layer === "") {
    throw misuse(
      "ROLE_OPTION_INVALID",
      `--role ${text} is not of the form LAYER=ROLE.`,
      'Write it like --role "Flower beds=bed"; `pegline inspect` lists the layers.',
    );
  }
  if (!(ROLES as readonly string[]).includes(role)) {
    const near = nearestName(role, ROLES);
    throw misuse(
      "ROLE_OPTION_INVALID",
      `--role ${text}: ${role || "nothing"} is not a role.`,
      `${near ? `Did you mean ${near}? ` : ""}Roles are ${ROLES.join(", ")}.`,
    );
  }
  return { ...before, [layer]: role as Role };
}

/** One `--format NAME[,NAME…]`, added to those before it. */
export function parseFormat(
  text: string,
  before: readonly FormatName[] = [],
): readonly FormatName[] {
  const names = parseValue(text)
    .split(",")
    .map((name) => name.trim().toLowerCase())
    .filter((name) => name !== "");
  const formats = names.map((name) => {
    const format = FORMAT_NAMES.find((one) => one === (FORMAT_ENDINGS[name] ?? name));
    if (format !== undefined) return format;
    const near = nearestName(name, FORMAT_NAMES);
    throw misuse(
      "FORMAT_OPTION_INVALID",
      `--format ${text}: ${name} is no format that can be written.`,
      `${near ? `Did you mean ${near}? ` : ""}Formats are ${FORMAT_NAMES.join(", ")}.`,
    );
  });
  if (formats.length > 0) return [...before, ...formats];
  throw misuse(
    "FORMAT_OPTION_INVALID",
    `--format ${text} names no format.`,
    `Formats are ${FORMAT_NAMES.join(", ")}.`,
  );
}

/** Endings of files that people give for the name of the format. */
const FORMAT_ENDINGS: Readonly<Record<string, FormatName>> = {
  geopackage: "gpkg",
  shp: "shapefile",
  fgb: "flatgeobuf",
  json: "geojson",
};

/** `EPSG:N`, a PROJ string, WKT, or `site-grid`. */
export function parseOutCrs(text: string): OutCrs {
  const value = parseValue(text).trim();
  const code = /^(?:epsg:{1,2})?(\d{4,6})$/i.exec(value)?.[1];
  if (code !== undefined) return Number(code);
  if (value === SITE_GRID || value.startsWith("+") || isWkt(value)) return value;
  throw misuse(
    "OUT_CRS_UNKNOWN",
    `--out-crs ${text} is no reference system.`,
    "Write it like --out-crs EPSG:27700, or give a PROJ string, WKT or site-grid.",
  );
}

/** One of the choices for parts that cannot be driven to. */
export function parseParts(text: string): PartsChoice {
  const choice = PARTS_CHOICES.find((one) => one === text);
  if (choice) return choice;
  throw misuse(
    "PARTS_OPTION_INVALID",
    `--parts ${text} is none of ${PARTS_CHOICES.join(", ")}.`,
    "Give one of them; docs/site-file.md says what each does.",
  );
}

/** Paper for the drawings: `A3`, `a3`, or `auto` where it is to be chosen. */
export function parseSheet(text: string): PaperName | "auto" {
  if (text.toLowerCase() === "auto") return "auto";
  const paper = PAPER_NAMES.find((one) => one === text.toUpperCase());
  if (paper) return paper;
  throw misuse(
    "SHEET_OPTION_INVALID",
    `--sheet ${text} is none of ${PAPER_NAMES.join(", ")}, auto.`,
    "Give the paper that it is printed on, or auto to have it chosen.",
  );
}

/** Number of a port (RFC 6335, section 6): 1 to 65535. */
export function parsePort(text: string): number {
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 0;
  if (port >= 1 && port <= 65_535) return port;
  throw misuse(
    "PORT_OPTION_INVALID",
    `--port ${text} is no port.`,
    "Give a number from 1 to 65535, best above 1023; leave it out to have a free one.",
  );
}

/** Scale of the drawings: `200` or `1:200`. */
export function parseScale(text: string): number {
  const scale = Number(/^\s*(?:1\s*:\s*)?(\d+)\s*$/.exec(text)?.[1]);
  if ((SCALES as readonly number[]).includes(scale)) return scale;
  throw misuse(
    "SCALE_OPTION_INVALID",
    `--scale ${text} is no standard scale.`,
    `Give one of ${SCALES.join(", ")}; 200 means 1:200.`,
  );
}

/** Language of the texts for the crew. */
export function parseLanguage(text: string): Language {
  return oneOf(text, LANGUAGES, "LANGUAGE_OPTION_INVALID", "--language");
}

/** Unit of lengths in guide and lists; `feet` and `metres` are understood as well. */
export function parseUnits(text: string): LengthUnit {
  const short: Readonly<Record<string, string>> = {
    feet: "ft",
    foot: "ft",
    metres: "m",
    meters: "m",
  };
  const units = Object.keys(LENGTH_UNITS) as LengthUnit[];
  return oneOf(short[text.toLowerCase()] ?? text, units, "UNITS_OPTION_INVALID", "--units");
}

/** Lists with commas between them, added to those before; `all` stands for all. */
export function parseLists(text: string, before: readonly ListName[] = []): readonly ListName[] {
  const names = text.split(",").map((name) => name.trim());
  const lists = names.flatMap((name) =>
    name === "all" ? LISTS : [oneOf(name, LISTS, "LISTS_OPTION_INVALID", "--lists")],
  );
  return [...new Set([...before, ...lists])];
}

function oneOf<T extends string>(
  text: string,
  known: readonly T[],
  code: "LANGUAGE_OPTION_INVALID" | "UNITS_OPTION_INVALID" | "LISTS_OPTION_INVALID",
  option: string,
): T {
  const found = known.find((one) => one === text.toLowerCase());
  if (found) return found;
  const near = nearestName(text.toLowerCase(), known);
  throw misuse(
    code,
    `${option} ${text}: that is none of ${known.join(", ")}.`,
    near ? `Did you mean ${near}?` : "Give one of them.",
  );
}

/** One `--lawn NAME`, added to those before it. */
export function parseLawn(text: string, before: readonly string[] = []): readonly string[] {
  return [...before, parseValue(text)];
}

/** One of several texts, added to those before it. */
export function parseList(text: string, before: readonly string[] = []): readonly string[] {
  return [...before, parseValue(text)];
}

/** A number above zero. */
export function parsePositive(text: string): number {
  const value = Number(text.trim().replace(",", "."));
  if (text.trim() !== "" && Number.isFinite(value) && value > 0) return value;
  throw misuse("NUMBER_INVALID", `${text} is not a number above zero.`, "Write it like 13.3.");
}

/** A whole number above zero. */
export function parseCount(text: string): number {
  const value = Number(text.trim());
  if (Number.isSafeInteger(value) && value > 0) return value;
  throw misuse("NUMBER_INVALID", `${text} is not a whole number above zero.`, "Write it like 4.");
}

/** Two numbers above zero, with a comma between them. */
export function parsePair(text: string): readonly [number, number] {
  const parts = text.split(/[,;]/).map((part) => Number(part.trim() || Number.NaN));
  const [first, second] = parts;
  if (parts.length === 2 && first! > 0 && second! > 0 && parts.every(Number.isFinite)) {
    return [first!, second!];
  }
  throw misuse(
    "PAIR_INVALID",
    `${text} is not two numbers above zero.`,
    "Write what both ends show, the start first: 18.2,31.5.",
  );
}
