/** Values of a plan's features that cannot be what they stand for are left out, and told. */
import type { RawFeature } from "../../model/features.ts";
import type { Finding } from "../../model/finding.ts";

const NUMBERS = new Set([
  "length_m",
  "chainage_m",
  "second_chainage_m",
  "bearing_deg",
  "straight_m",
  "clearance_m",
  "area_m2",
  "width_m",
  "wire_width_m",
  "numbered_to",
]);
const TEXTS = new Set([
  "loop",
  "number",
  "name",
  "from",
  "to",
  "on",
  "direction",
  "verdict",
  "joint",
]);

/** Names of loops and pegs are shown in sentences; longer ones are cut, letters. */
const TEXT_MAX = 80;

/** Features whose numbers are numbers and whose texts are short, and what was left out. */
export interface Readable {
  readonly features: readonly RawFeature[];
  /** One for each kind of feature and key, of severity `error`: what is left out is not measured. */
  readonly findings: readonly Finding[];
}

/** @param features of a plan of ours, each with `kind` */
export function readableFeatures(
  features: readonly RawFeature[],
  file: string | undefined,
): Readable {
  const left = new Map<string, { count: number; first: unknown }>();
  const kept = features.map((one) => {
    const properties = Object.fromEntries(
      Object.entries(one.properties).flatMap(([key, value]): [string, unknown][] => {
        const read = readValue(key, value);
        if (read !== undefined) return [[key, read]];
        const what = `${key} of ${String(one.properties.kind)}`;
        const known = left.get(what) ?? { count: 0, first: value };
        left.set(what, { ...known, count: known.count + 1 });
        return [];
      }),
    );
    return { ...one, properties };
  });
  const findings = [...left].map(
    ([what, { count, first }]): Finding => ({
      code: "PLAN_VALUE_UNREADABLE",
      severity: "error",
      ...(file === undefined ? {} : { file }),
      message: `${what} is ${shown(first)}${count === 1 ? "" : ` and the like, ${count} times`}: it cannot be read, and is not measured.`,
      remedy: "Write it as docs/formats/plan-geojson.md says, or leave it out.",
    }),
  );
  return { features: kept, findings };
}

/** The value as it is measured; undefined where it cannot be. */
function readValue(key: string, value: unknown): unknown {
  if (value === null || value === "") return value;
  if (NUMBERS.has(key)) {
    const number =
      typeof value === "number" || typeof value === "string" ? Number(value) : Number.NaN;
    return Number.isFinite(number) ? number : undefined;
  }
  if (!TEXTS.has(key)) return value;
  if (typeof value === "object") return undefined;
  const text = String(value);
  return text.length > TEXT_MAX ? `${text.slice(0, TEXT_MAX)}…` : text;
}

function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? "nothing";
  return text.length > TEXT_MAX ? `${text.slice(0, TEXT_MAX)}…` : text;
}
