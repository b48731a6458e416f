/** True for a number whose decimals stand behind a comma. */
export function hasDecimalComma(text: string): boolean {
  return /^[^,]*,\d*\s*$/.test(text) && /\d/.test(text);
}

/**
 * A number as people write it: decimal point or comma, thousands parted by spaces, apostrophes, or
 * whichever of point and comma comes first. A single comma is decimal. NaN where it is none.
 */
export function numberOfText(text: string): number {
  let plain = text.trim().replace(/(?<=\d)[\s\u00a0\u202f'’](?=\d{3}(?:\D|$))/g, "");
  const [commas, points] = [plain.split(",").length - 1, plain.split(".").length - 1];
  if (commas > 0 && points > 0) {
    const decimal = plain.lastIndexOf(",") > plain.lastIndexOf(".") ? "," : ".";
    plain = plain.replaceAll(decimal === "," ? "." : ",", "").replace(decimal, ".");
  } else if (commas === 1) {
    plain = plain.replace(",", ".");
  } else if (commas > 1) {
    plain = plain.replaceAll(",", "");
  } else if (points > 1) {
    plain = plain.replaceAll(".", "");
  }
  return /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i.test(plain) ? Number(plain) : Number.NaN;
}

/**
 * Degrees, in decimals or in degrees, minutes and seconds (`51°30'36"S`, `51d30m36s`); W and S, in
 * capitals, are negative. NaN where there are none.
 */
export function degreesOfText(text: string): number {
  const decimal = numberOfText(text);
  if (!Number.isNaN(decimal)) return decimal;
  const match =
    /^\s*([NSEWO])?\s*([+-])?(\d+(?:[.,]\d+)?)\s*[°d:\s]\s*(?:(\d+(?:[.,]\d+)?)\s*['’′m:\s]?\s*)?(?:(\d+(?:[.,]\d+)?)\s*(?:["”″s]|'')?\s*)?([NSEWO])?\s*$/.exec(
      text,
    );
  if (match === null) return Number.NaN;
  const [, before, sign, degrees, minutes, seconds, after] = match;
  const [d, m, s] = [degrees, minutes, seconds].map((part) => numberOfText(part ?? "0"));
  if (m! >= 60 || s! >= 60) return Number.NaN;
  const isNegative = sign === "-" || /[SW]/.test(before ?? after ?? "");
  return (isNegative ? -1 : 1) * (d! + m! / 60 + s! / 3600);
}
