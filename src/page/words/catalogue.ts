/** The catalogue of the page: one entry a text, the same in every language. */
import type { Language } from "../../model/hand-over-options.ts";
import { COMPARE_DE, COMPARE_EN } from "./compare.ts";
import { DE } from "./de.ts";
import { EDIT_DE, EDIT_EN } from "./edits.ts";
import { EN } from "./en.ts";
import { IMPORT_DE, IMPORT_EN } from "./import.ts";
import { LIVE_DE, LIVE_EN } from "./live.ts";

const ALL_EN = { ...EN, ...EDIT_EN, ...COMPARE_EN, ...IMPORT_EN, ...LIVE_EN };

/** Key of one text of the page. */
export type WordKey = keyof typeof ALL_EN;

/** All texts, by language. */
export const CATALOGUE: Readonly<Record<Language, Readonly<Record<WordKey, string>>>> = {
  en: ALL_EN,
  de: { ...DE, ...EDIT_DE, ...COMPARE_DE, ...IMPORT_DE, ...LIVE_DE },
};
