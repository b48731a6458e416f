/** Name of a loop by its number from 0: A, B, …, Z, AA, AB, … */
export function loopName(number: number): string {
  const last = String.fromCharCode(65 + (number % 26));
  return number < 26 ? last : loopName(Math.floor(number / 26) - 1) + last;
}
