/** The catalogue of texts: one entry a sentence, the same in every language, made text on demand. */
import { type Formatters, IntlMessageFormat } from "intl-messageformat";
import type { Language } from "../../model/hand-over-options.ts";
import type { Say, Value } from "../guide/guide.ts";
import { EN } from "./en.ts";
import type { Measures } from "./measures.ts";
import type { MessageKey, Messages } from "./messages.ts";

/** The texts of a language; those other than English are loaded when they are asked for. */
export async function messagesOf(language: Language): Promise<Messages> {
  return language === "de" ? (await import("./de.ts")).DE : EN;
}

/** Makes text of what is to be said. */
export type Speak = (say: Say) => string;

/**
 * @param messages texts of the language
 * @param measures how lengths, areas and resistances are written
 * @param safe makes text of the inputs (names) fit for the output; see src/escape
 */
export function speaker(
  language: Language,
  messages: Messages,
  measures: Measures,
  safe: (text: string) => string,
): Speak {
  const formats = new Map<MessageKey, IntlMessageFormat>();
  const formatOf = (key: MessageKey): IntlMessageFormat => {
    const known = formats.get(key);
    if (known) return known;
    // Tags are off: texts hold none, and names of the inputs are no markup.
    const made = new IntlMessageFormat(messages[key], language, undefined, {
      ignoreTag: true,
      formatters: FORMATTERS,
    });
    formats.set(key, made);
    return made;
  };
  const plain = (value: Value): string | number => {
    if (typeof value === "number") return value;
    if (typeof value === "string") return safe(value);
    if ("key" in value) return speak(value);
    if ("lengthM" in value) return measures.length(value.lengthM);
    if ("list" in value) return value.list.map(plain).join(", ");
    if ("names" in value) return value.names.map(safe).join(", ") + (value.more ? ", …" : "");
    if ("sizeM" in value) return measures.size(value.sizeM);
    if ("areaM2" in value) return measures.area(value.areaM2);
    return measures.resistance(value.ohm);
  };
  const speak: Speak = ({ key, values = {} }) => {
    const text = messages[key];
    // Without places to fill, and without quotes, a text stands for itself.
    if (!/[{'}]/.test(text)) return text;
    const filled = Object.fromEntries(
      Object.entries(values).map(([name, value]) => [name, plain(value)]),
    );
    return String(formatOf(key).format(filled));
  };
  return speak;
}

/** Makes a thing that is dear to make once for each choice. */
function kept<Choice extends readonly unknown[], Made>(
  make: (...choice: Choice) => Made,
): (...choice: Choice) => Made {
  const known = new Map<string, Made>();
  return (...choice) => {
    const key = JSON.stringify(choice);
    const found = known.get(key) ?? make(...choice);
    known.set(key, found);
    return found;
  };
}

/**
 * Counts in texts, `#`, are whole numbers, and thousands are not parted, as nowhere in the outputs:
 * digits alone. Others are written by `Intl`, which takes long to begin with (see `measuresOf`).
 */
const counts = kept((locales, options) => {
  const byIntl = kept(() => {
    const wanted = { ...options, useGrouping: false } as Intl.NumberFormatOptions;
    return new Intl.NumberFormat(locales, wanted);
  });
  const format = (value: number) =>
    Number.isSafeInteger(value) && options === undefined ? `${value}` : byIntl().format(value);
  return { format } as Intl.NumberFormat;
}) as Formatters["getNumberFormat"];

const FORMATTERS: Formatters = {
  getNumberFormat: counts,
  getDateTimeFormat: kept((locales, options) => new Intl.DateTimeFormat(locales, options)),
  getPluralRules: kept((locales, options) => new Intl.PluralRules(locales, options)),
};

// The library asks which languages there are, for each text anew, and needs the answer for times alone.
IntlMessageFormat.resolveLocale = kept((locales) => new Intl.Locale([locales].flat()[0]!));
