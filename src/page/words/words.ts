/** The reader's language and units: everything that makes text of the catalogue. */
import { type Formatters, IntlMessageFormat } from "intl-messageformat";
import { shownText } from "../../escape/hidden.ts";
import type { Say } from "../../handover/guide/guide.ts";
import { speaker } from "../../handover/words/catalogue.ts";
import { DE as GUIDE_DE } from "../../handover/words/de.ts";
import { EN as GUIDE_EN } from "../../handover/words/en.ts";
import { type Measures, measuresOf } from "../../handover/words/measures.ts";
import type { Language, LengthUnit } from "../../model/hand-over-options.ts";
import type { FigureValue } from "../model/page-model.ts";
import { CATALOGUE, type WordKey } from "./catalogue.ts";

export interface Words {
  readonly language: Language;
  readonly units: LengthUnit;
  readonly measures: Measures;
  /** A text of the page. */
  t(key: WordKey, values?: Readonly<Record<string, string | number>>): string;
  /** A sentence of the laying guide. */
  say(say: Say): string;
  figure(value: FigureValue): string;
}

/** @returns the same words for the same language and unit; making them costs nothing to speak of */
export function wordsIn(language: Language, units: LengthUnit): Words {
  const texts = CATALOGUE[language];
  const measures = measuresOf(language, units);
  const formats = new Map<WordKey, IntlMessageFormat>();
  const t: Words["t"] = (key, values) => {
    const text = texts[key];
    if (!text.includes("{")) return text;
    let format = formats.get(key);
    if (!format) {
      const options = { ignoreTag: true, formatters: FORMATTERS };
      format = new IntlMessageFormat(text, language, undefined, options);
      formats.set(key, format);
    }
    return String(format.format({ ...values }));
  };
  const messages = language === "de" ? GUIDE_DE : GUIDE_EN;
  const { number } = measures;
  return {
    language,
    units,
    measures,
    t,
    say: speaker(language, messages, measures, shownText),
    figure: (value) => {
      if ("lengthM" in value) return measures.length(value.lengthM);
      if ("areaM2" in value) return measures.area(value.areaM2);
      if ("ohm" in value) return measures.resistance(value.ohm);
      if ("percent" in value) return `${number(value.percent, 1)} %`;
      if ("deg" in value) return `${number(value.deg, 0)}°`;
      if ("hours" in value) return `${number(value.hours, 1)} h`;
      if ("count" in value) return String(value.count);
      return "word" in value ? t(value.word) : value.text;
    },
  };
}

/** Thousands are not parted, as nowhere in the outputs. */
const FORMATTERS: Formatters = {
  getNumberFormat: (locales, options) =>
    new Intl.NumberFormat(locales, { ...options, useGrouping: false } as Intl.NumberFormatOptions),
  getDateTimeFormat: (locales, options) => new Intl.DateTimeFormat(locales, options),
  getPluralRules: (locales, options) => new Intl.PluralRules(locales, options),
};
