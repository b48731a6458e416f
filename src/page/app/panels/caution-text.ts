import { CAUTION_TEXTS, type Caution, type CautionCode } from "../../../handover/cautions.ts";
import type { Words } from "../../words/words.ts";

/** A caution in the reader's language; one that the page does not know as it came. */
export function cautionText({ code, text }: Caution, words: Words): string {
  if (!Object.hasOwn(CAUTION_TEXTS, code)) return text;
  return words.say({ key: `caution.${code as CautionCode}` });
}
