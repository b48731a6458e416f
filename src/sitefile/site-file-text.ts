/** A site file to start from, with comments, from what is in the inputs. Pure: values in, text out. */
import { shownText } from "../escape/hidden.ts";
import { jsonText } from "../escape/json.ts";
import type { Role } from "../model/roles.ts";

/** One layer, as the rules of the file shall name it. */
export interface DraftLayer {
  readonly name: string;
  readonly features: number;
  readonly geometries: Readonly<Record<string, number>>;
  readonly roles: Readonly<Partial<Record<Role, number>>>;
  /** What gave the roles, in words. */
  readonly because: string;
  /** Whether a rule by layer name says the same of all its features as is so without it. */
  readonly isPlain: boolean;
  readonly fields: readonly string[];
}

export interface DraftInput {
  /** Relative to the site file, with forward slashes. */
  readonly file: string;
  readonly format: string;
  readonly extentM: readonly [number, number] | null;
  /** The system that its layers are in; null where it is not known. */
  readonly crs: string | null;
  readonly layers: readonly DraftLayer[];
}

export interface Draft {
  readonly name: string;
  readonly inputs: readonly DraftInput[];
  /** As given on the command line. */
  readonly crs?: string | undefined;
  readonly lawns: number;
}

const HEAD = `// Site file of pegline: what to plan, and how. Edit it, then plan from it:
//   pegline plan FILE
// Everything is explained in docs/site-file.md. What stands behind // is not in use: take the
// slashes away to use it. Commas after the last entry do no harm.`;

/** The text of a site file that plans the inputs as they would be planned without it. */
export function siteFileText(draft: Draft): string {
  const parts = [
    `  "name": ${quoted(draft.name)},`,
    inputsText(draft.inputs),
    crsText(draft),
    `  // The machine: small, medium, large, a profile file, or values over a built-in profile.
  "profile": "medium",
  // "profile": { "based_on": "medium", "setin_m": { "open": 0.3 }, "passage": { "drive_min_m": 0.9 } },`,
    `  // Heights of the ground, for lengths along it and for slopes: a GeoTIFF or an ESRI ASCII grid.
  // "terrain": "heights.tif",`,
    lawnsText(draft.lawns),
    rolesText(draft.inputs),
    `  // What the lawn's edge is: along the lines of a layer, along a line drawn here, beside a role.
  "edges": [
    // { "layer": "kerbs", "edge": "kerb" },
    // { "line": [[10.0, 50.0], [10.0001, 50.0]], "edge": "drop", "setin_m": 1.2 },
    // { "beside": "paving", "edge": "flush" },
  ],`,
    `  // Where the station and an outdoor socket are: longitude and latitude, or x and y with a crs.
  // "station": { "at": [10.0, 50.0] },
  // "outlet": { "at": [400000, 300000], "crs": "EPSG:27700" },`,
    `  // Set-ins over those of the profile, metres.
  // "setin_m": { "roles": { "bed": 0.25 }, "edges": { "wall": 0.4 }, "things": { "Pond": 1.5 } },`,
    `  // Lawn that may be given up for each metre of wire that it saves, square metres.
  // "lawn_per_wire_m2": 0.1,`,
    `  // Whether lawn that is more than one loop may have is divided between loops.
  // "split": false,`,
    `  // How far repairs may go; see docs/repair.md for what each does.
  // "repair": { "join_gap_m": 0.02, "sliver_width_m": 0.02, "overhang_m": 0.15, "line_gap_m": 0.05 },`,
    `  // Drawings to scale, as sheet.pdf and sheet.svg; what is left out is chosen or stays blank.
  // "sheet": { "paper": "A3", "scale": 200, "client": "", "drawn_by": "", "date": "", "revision": "A" },`,
    `  // Prices without tax, for a total in the summary.
  // "prices": {
  //   "currency": "EUR",
  //   "tax_rate": 0.2,
  //   "items": [{ "name": "Boundary wire", "per": "wire_m", "unit_price": 0.4 }],
  // },`,
  ];
  return `${HEAD}\n{\n${parts.join("\n\n")}\n}\n`;
}

/** JSON text of a name; also fit for a comment, since what acts, as line breaks do, is escaped. */
const quoted = (text: string) => jsonText(text);

function inputsText(inputs: readonly DraftInput[]): string {
  const lines = inputs.map(({ file, format, layers, extentM }) => {
    const size = extentM ? `, ${extentM[0].toFixed(1)} m × ${extentM[1].toFixed(1)} m` : "";
    return `    ${quoted(file)}, // ${format}, ${counted(layers.length, "layer")}${size}`;
  });
  return `  // The files that together make the site, relative to this file.\n  "inputs": [\n${lines.join("\n")}\n  ],`;
}

function crsText({ crs, inputs }: Draft): string {
  const known = inputs.map(
    (one) => `  //   ${quoted(one.file)}: ${inComment(one.crs ?? "not known")}`,
  );
  const key = crs === undefined ? '  // "crs": "EPSG:27700",' : `  "crs": ${quoted(crs)},`;
  return `  // Reference system of inputs that do not state one. Theirs are:\n${known.join("\n")}\n${key}`;
}

function lawnsText(lawns: number): string {
  return `  // Which lawns to plan, of the ${counted(lawns, "lawn")} found: all, by name, or by what they are.
  "lawns": "all",
  // "lawns": ["Front lawn", "#12"],
  // "lawns": { "field": "landuse", "is": "grass", "least_area_m2": 500 },
  // "lawns": { "inside": "outline", "nearest": { "at": [10.0, 50.0], "count": 3 } },`;
}

function rolesText(inputs: readonly DraftInput[]): string {
  const all = inputs.flatMap((input) => input.layers.map((layer) => ({ input, layer })));
  const names = all.map(({ layer }) => layer.name.trim().toLowerCase());
  const isAlone = (name: string) =>
    names.filter((one) => one === name.trim().toLowerCase()).length === 1;
  const lines = all.map(({ input, layer }) => layerText(input, layer, isAlone(layer.name)));
  return `  // What the features are. The first rule that fits decides: by layer, attribute and geometry
  // (area, line, point). Roles: docs/roles.md.
  "roles": [\n${lines.join("\n")}\n  ],`;
}

function layerText({ file }: DraftInput, layer: DraftLayer, isAlone: boolean): string {
  const { name, features, geometries, roles, because, isPlain, fields } = layer;
  const names = Object.keys(roles) as Role[];
  const shapes = listOf(geometries);
  const lines = [
    `// ${quoted(file)}, layer ${quoted(name)}: ${counted(features, "feature")}${shapes ? ` (${shapes})` : ""}`,
    `//   is ${names.length > 0 ? `${listOf(roles)}, by ${inComment(because)}` : "nothing of use yet"}`,
  ];
  if (fields.length > 0) {
    lines.push(
      `//   attributes: ${inComment(fields.slice(0, 12).join(", "))}${fields.length > 12 ? ", …" : ""}`,
    );
  }
  const commonest = names.sort((a, b) => roles[b]! - roles[a]!)[0] ?? "lawn";
  const rule = `{ "layer": ${quoted(name)}, "role": "${commonest}" },`;
  const fitsRule = name !== "" && name.length <= 1000;
  lines.push(isPlain && isAlone && fitsRule ? rule : `// ${rule}`);
  return lines.map((line) => `    ${line}`).join("\n");
}

/** Text of others inside a comment: on one line, whatever it holds. */
function inComment(text: string): string {
  return shownText(text);
}

function counted(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? "" : "s"}`;
}

function listOf(counts: Readonly<Record<string, number | undefined>>): string {
  return Object.entries(counts)
    .map(([name, count]) => `${count} ${name}`)
    .join(", ");
}
