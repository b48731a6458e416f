/** Lengths, areas and resistances as people read them, in metres or in feet. */
import { LENGTH_UNITS, type LengthUnit } from "../../model/hand-over-options.ts";

export interface Measures {
  readonly unit: LengthUnit;
  /** A length to the centimetre, or to an eighth of an inch. */
  readonly length: (lengthM: number) => string;
  /** The same without zeros at its end. */
  readonly size: (lengthM: number) => string;
  readonly area: (areaM2: number) => string;
  readonly resistance: (ohm: number) => string;
  /** A whole or decimal number in the language's way. */
  readonly number: (value: number, decimals: number) => string;
}

/**
 * Decimal signs of the languages that there are texts in. Asking `Intl.NumberFormat` instead takes as
 * long as a fifth of bare Node's start, the first time: it reads which languages there are.
 */
const DECIMAL_SIGNS: Readonly<Record<string, string>> = { en: ".", de: "," };

function numberByIntl(language: string, value: number, decimals: number): string {
  const digits = { minimumFractionDigits: decimals, maximumFractionDigits: decimals };
  const format = new Intl.NumberFormat(language, { ...digits, useGrouping: false });
  return format.format(Number(value.toFixed(decimals)) + 0);
}

/**
 * @param language tag of the language, for decimal signs
 */
export function measuresOf(language: string, unit: LengthUnit): Measures {
  const sign = DECIMAL_SIGNS[language];
  // Never −0.
  const digits = (value: number, decimals: number): string =>
    (Number(value.toFixed(decimals)) + 0).toFixed(decimals);
  const number = (value: number, decimals: number): string =>
    sign === undefined
      ? numberByIntl(language, value, decimals)
      : digits(value, decimals).replace(".", sign);
  const squareFeet = 1 / LENGTH_UNITS.ft ** 2;
  return {
    unit,
    number,
    length: (lengthM) => (unit === "m" ? `${number(lengthM, 2)} m` : feetAndInches(lengthM)),
    size: (lengthM) =>
      unit === "m" ? `${number(lengthM, decimalsOf(lengthM))} m` : feetAndInches(lengthM),
    area: (areaM2) =>
      unit === "m" ? `${number(areaM2, 1)} m²` : `${number(areaM2 * squareFeet, 0)} ft²`,
    resistance: (ohm) => `${number(ohm, 2)} Ω`,
  };
}

/** Decimals that a length has, at most 2. */
function decimalsOf(value: number): number {
  return [0, 1].find((decimals) => Math.abs(Number(value.toFixed(decimals)) - value) < 5e-3) ?? 2;
}

/** As a tape in inches is read: `13 ft 9 3/8 in`, to the nearest eighth. */
export function feetAndInches(lengthM: number): string {
  const eighths = Math.round((Math.abs(lengthM) / LENGTH_UNITS.ft) * 96);
  const feet = Math.floor(eighths / 96);
  const inches = Math.floor((eighths % 96) / 8);
  const rest = eighths % 8;
  const fraction = rest === 0 ? "" : FRACTIONS[rest]!;
  const inchText = [inches > 0 || rest === 0 ? String(inches) : "", fraction].filter(Boolean);
  const parts = [
    ...(feet > 0 ? [`${feet} ft`] : []),
    ...(inches > 0 || rest > 0 || feet === 0 ? [`${inchText.join(" ")} in`] : []),
  ];
  return `${lengthM < 0 && eighths > 0 ? "-" : ""}${parts.join(" ")}`;
}

const FRACTIONS = ["", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
