/**
 * Characters that act rather than show: what a name from a file may hold to colour, move, hide or
 * reorder what people read. Facts from the Unicode Standard (General_Category, Bidi_Control and
 * Default_Ignorable_Code_Point), Unicode Technical Report 36 and Unicode Technical Standard 39.
 */

/** Line ends, tabs and the like: C0, NEL, LINE SEPARATOR, PARAGRAPH SEPARATOR. */
const BREAKS = /[\t\n\v\f\r\u0085\u2028\u2029]+/gu;

/**
 * Directional embeddings, overrides and isolates; controls (C0, C1, DEL); lone surrogates; what by
 * its property shows nothing; interlinear marks; noncharacters.
 */
const ACTING =
  /[\p{Bidi_Control}\p{Cc}\p{Cs}\p{Default_Ignorable_Code_Point}\p{Noncharacter_Code_Point}\ufff9-\ufffb]/gu;

/** Left-to-right, right-to-left and Arabic letter mark: usual and harmless in right-to-left names. */
const MARKS = /[\u200e\u200f\u061c]/gu;

/** Scripts whose words need joiners (after UAX 31, section 2.3). */
const JOINING_SCRIPTS =
  "Arabic Syriac Devanagari Bengali Gurmukhi Gujarati Oriya Tamil Telugu Kannada Malayalam Sinhala Khmer";
const JOINING = JOINING_SCRIPTS.split(" ").map((name) => `\\p{Script=${name}}`);

/** Joiners where they belong: inside words of those scripts, and in emoji with their variations. */
const JOINED = new RegExp(
  [
    `(?<=[${JOINING.join("")}\\p{M}])(?:\u200c|\u200d)(?=[\\p{L}\\p{M}])`,
    "(?<=\\p{Extended_Pictographic}|\\p{Emoji_Modifier}|\ufe0f)\u200d(?=\\p{Extended_Pictographic})",
    "(?<=\\p{Emoji})\ufe0f",
  ].join("|"),
  "gu",
);

/** More marks than this on one letter are no writing of any language (UTS 39, section 5.4). */
const MARKS_MAX = 4;
const PILED = new RegExp(`(\\p{Mn}{${MARKS_MAX}})\\p{Mn}+`, "gu");

/** Stands for what was taken out, as TR 36 advises: taking out without a sign can join what it parted. */
export const REPLACEMENT = "\ufffd";

/** Text that shows what it is: breaks as spaces, anything else that acts as U+FFFD. */
export function shownText(text: string): string {
  const line = text.replace(BREAKS, " ");
  const joiners = new Set([...line.matchAll(JOINED)].map((match) => match.index));
  return line
    .replace(ACTING, (char, at: number) => {
      if (joiners.has(at)) return char;
      return char.search(MARKS) === 0 ? "" : REPLACEMENT;
    })
    .replace(PILED, `$1${REPLACEMENT}`);
}

/** The same for text in lines of our own making: line feeds stay. */
export function shownLines(text: string): string {
  return text.split("\n").map(shownText).join("\n");
}

/** Whether a character acts rather than shows; for writers that can write it as a number. */
export function isActing(char: string): boolean {
  return char.search(ACTING) === 0 || char.search(BREAKS) === 0;
}
