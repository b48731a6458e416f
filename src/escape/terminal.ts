import { shownText } from "./hidden.ts";

/** No name that people give is longer; a path may be, and its two ends tell the most. */
const NAME_LENGTH_MAX = 100;
const SENTENCE_LENGTH_MAX = 800;

/** Made when first long text comes: it takes longer to make than everything else here. */
let graphemes: Intl.Segmenter | undefined;

/**
 * A name from a file (of a layer, a feature, a file, an attribute) for a terminal: on one line, with
 * nothing in it that acts, long ones with their middle left out and a sign of it.
 */
export function terminalName(text: string): string {
  return shortened(shownText(text).trim(), NAME_LENGTH_MAX);
}

/** A sentence of ours that may have names in it, for a terminal. Data files have it in full. */
export function terminalSentence(text: string): string {
  return shortened(shownText(text).trim(), SENTENCE_LENGTH_MAX);
}

/** Leaves out the middle of text longer than `max` characters as people count them. */
function shortened(text: string, max: number): string {
  // A character has at least one code unit: short text needs no counting.
  if (text.length <= max) return text;
  const ends = 8 * max;
  const isHuge = text.length > 2 * ends;
  const head = charactersOf(isHuge ? text.slice(0, ends) : text);
  if (!isHuge && head.length <= max) return text;
  const tail = isHuge ? charactersOf(text.slice(-ends)) : head;
  const kept = Math.floor((max - 1) / 2);
  const first = head.slice(0, max - 1 - kept).join("");
  const last = tail.slice(-kept).join("");
  const left = text.length - first.length - last.length;
  return `${first}… [${left} characters left out] …${last}`.replace(/\p{Cs}/gu, "");
}

function charactersOf(text: string): string[] {
  graphemes ??= new Intl.Segmenter("en", { granularity: "grapheme" });
  return [...graphemes.segment(text)].map(({ segment }) => segment);
}
