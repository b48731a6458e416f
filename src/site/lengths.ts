/** Metres in one of the units that people write behind a number. International foot: 0.3048 m. */
const UNIT_M: Readonly<Record<string, number>> = {
  m: 1,
  metre: 1,
  metres: 1,
  meter: 1,
  meters: 1,
  mm: 0.001,
  cm: 0.01,
  dm: 0.1,
  ft: 0.3048,
  foot: 0.3048,
  feet: 0.3048,
  "'": 0.3048,
  "′": 0.3048,
  in: 0.0254,
  inch: 0.0254,
  inches: 0.0254,
  '"': 0.0254,
  "″": 0.0254,
};

/**
 * A length in metres from a number or text: `2`, `"2 m"`, `"2,5"`, `"30 cm"`, `"6'"`, `"25'8\""`.
 *
 * @param bareUnitM metres in one unit of a number that has no unit behind it
 * @returns undefined where it is no length (empty, not a number, a list, below zero, over 10 km)
 */
export function lengthM(value: unknown, bareUnitM = 1): number | undefined {
  if (typeof value === "number") return valid(value * bareUnitM);
  if (typeof value !== "string") return undefined;
  const text = value.trim().toLowerCase();
  const feetInches = /^(\d+(?:[.,]\d+)?)\s*['′]\s*(\d+(?:[.,]\d+)?)\s*["″]?$/.exec(text);
  if (feetInches) return valid(decimal(feetInches[1]!) * 0.3048 + decimal(feetInches[2]!) * 0.0254);
  const plain = /^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?)\s*([a-z'"′″]*)\.?$/.exec(text);
  if (!plain) return undefined;
  const unit = plain[2]!;
  const unitM = unit === "" ? bareUnitM : UNIT_M[unit];
  return unitM === undefined ? undefined : valid(decimal(plain[1]!) * unitM);
}

function decimal(text: string): number {
  return Number(text.replace(",", "."));
}

/** Nothing on a site is longer: it is a slip of the pen or a number that means something else. */
const LENGTH_MAX_M = 10_000;

function valid(metres: number): number | undefined {
  return metres >= 0 && metres <= LENGTH_MAX_M ? metres : undefined;
}
