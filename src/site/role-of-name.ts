import { FILLER_WORDS, PLACE_WORDS, ROLE_WORDS, type WordMeaning } from "./role-words.ts";

/**
 * What a layer, folder or feature name says of the role, if its head noun is a known word.
 *
 * The head noun is the last word before a word of place (`bed by the pond` is a bed), numbers and
 * words such as `area` or `front` left out: `garden_lawns_2024` is lawn, `house garden` says
 * nothing. Plurals count. Of a folder path the innermost folder that says something decides.
 */
export function roleOfName(name: string): WordMeaning | undefined {
  const folders = name.split("/");
  for (let i = folders.length - 1; i >= 0; i--) {
    const listed = folders[i]!.split(/[,;:&+]|\band\b|\bor\b/i).map(headMeaning);
    const meaning = listed.find((one) => one !== undefined);
    // A list of several sorts (`lawns, paths, trees`) says nothing of any one feature.
    if (meaning && listed.every((one) => one === undefined || one.role === meaning.role)) {
      return meaning;
    }
  }
  return undefined;
}

function headMeaning(name: string): WordMeaning | undefined {
  const words = name
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .split(/[^\p{L}]+/u)
    .filter((word) => word !== "");
  const place = words.findIndex((word, i) => i > 0 && PLACE_WORDS.has(word));
  const head = place > 0 ? words.slice(0, place) : words;
  const joined = ROLE_WORDS.get(singular(head.join("")));
  if (joined) return joined;
  while (head.length > 0) {
    const last = head.pop()!;
    const pair = head.length > 0 ? ROLE_WORDS.get(singular(head.at(-1)! + last)) : undefined;
    const meaning = pair ?? meaningOf(last);
    if (meaning) return meaning;
    if (!FILLER_WORDS.has(singular(last))) return undefined;
  }
  return undefined;
}

function meaningOf(word: string): WordMeaning | undefined {
  return ROLE_WORDS.get(word) ?? ROLE_WORDS.get(singular(word));
}

/** English singular, as far as the word table needs it: lawns, benches, bushes, shrubberies. */
function singular(word: string): string {
  if (word.endsWith("ies")) return `${word.slice(0, -3)}y`;
  if (/(ch|sh|ss|x)es$/.test(word)) return word.slice(0, -2);
  if (word.endsWith("s") && !word.endsWith("ss")) return word.slice(0, -1);
  return word;
}
