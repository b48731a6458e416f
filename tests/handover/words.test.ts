/** The catalogue: every language has the same keys and placeholders, every text can be said. */
import { parse, TYPE } from "@formatjs/icu-messageformat-parser";
import { describe, expect, it } from "vitest";
import { messagesOf, speaker } from "../../src/handover/words/catalogue.ts";
import { feetAndInches, measuresOf } from "../../src/handover/words/measures.ts";
import type { MessageKey } from "../../src/handover/words/messages.ts";
import { LANGUAGES } from "../../src/model/hand-over-options.ts";
import { sourceFiles } from "../house/source-files.ts";

type Elements = ReturnType<typeof parse>;

/** Placeholders of a text with what they are: `peg text`, `count plural`, `side select left,other`. */
function placeholders(elements: Elements): string[] {
  return elements.flatMap((element): string[] => {
    if (element.type === TYPE.argument) return [`${element.value} text`];
    if (element.type === TYPE.plural || element.type === TYPE.select) {
      const inner = Object.values(element.options).flatMap(({ value }) => placeholders(value));
      const kind =
        element.type === TYPE.plural
          ? "plural"
          : `select ${Object.keys(element.options).sort().join(",")}`;
      return [`${element.value} ${kind}`, ...inner];
    }
    return [];
  });
}

/** A name alone, pegs in brackets, and a word that German has too. */
const SAME = ["sheet.stationName", "run.betweenBack", "control.given"];

const unique = (list: readonly string[]) => [...new Set(list)].sort();
const english = await messagesOf("en");
const keys = Object.keys(english) as MessageKey[];

describe.each(LANGUAGES)("the texts in %s", (language) => {
  it("have the keys and placeholders of English", async () => {
    const messages = await messagesOf(language);
    expect(Object.keys(messages).sort()).toEqual([...keys].sort());
    for (const key of keys) {
      const own = unique(placeholders(parse(messages[key], { ignoreTag: true })));
      const theirs = unique(placeholders(parse(english[key], { ignoreTag: true })));
      expect(own, key).toEqual(theirs);
    }
  });

  it("have every plural form that the language has (Unicode CLDR, by Intl.PluralRules)", async () => {
    const forms = new Intl.PluralRules(language).resolvedOptions().pluralCategories;
    const messages = await messagesOf(language);
    const check = (elements: Elements, key: string): void => {
      for (const element of elements) {
        if (element.type !== TYPE.plural && element.type !== TYPE.select) continue;
        const options = Object.keys(element.options);
        if (element.type === TYPE.plural) {
          expect(options, key).toEqual(expect.arrayContaining(forms));
        }
        for (const { value } of Object.values(element.options)) check(value, key);
      }
    };
    for (const key of keys) check(parse(messages[key], { ignoreTag: true }), key);
  });

  it("differ from English, sentence by sentence", async () => {
    if (language === "en") return;
    const messages = await messagesOf(language);
    const same = keys.filter((key) => messages[key] === english[key]);
    expect(same).toEqual(SAME);
  });
});

describe("the catalogue", () => {
  it("has no text that nothing says", async () => {
    const files = await sourceFiles("src");
    const text = files.map((file) => file.text).join("\n");
    const dynamic =
      /^((beside|caution|compass|control|edge|finding|material|passage|role|side|note|style)\.|run\.(on|out))/;
    const unsaid = keys.filter((key) => !dynamic.test(key) && text.split(`"${key}"`).length < 4);
    // Once in each language, and at least once where it is said.
    expect(unsaid).toEqual([]);
  });

  it("makes names of the inputs fit for the output, and takes nothing in them for a placeholder", async () => {
    const speak = speaker("en", english, measuresOf("en", "m"), (name) => name.toUpperCase());
    expect(speak({ key: "beside.waterOf", values: { name: "{pond} <b>#</b>" } })).toBe(
      "along the water of {POND} <B>#</B>",
    );
  });

  it("says whole numbers without parting thousands, as figures elsewhere", () => {
    const speak = speaker("en", english, measuresOf("en", "m"), (name) => name);
    expect(speak({ key: "before.errors", values: { count: 1234 } })).toContain("1234 findings");
  });
});

describe("numbers", () => {
  // Reference: Intl.NumberFormat (ECMA-402, the data of CLDR), which is too slow to begin with.
  it.each(["en", "de"])("are written as Intl writes them in %s", (language) => {
    const { number } = measuresOf(language, "m");
    for (const decimals of [0, 1, 2]) {
      const digits = { minimumFractionDigits: decimals, maximumFractionDigits: decimals };
      const intl = new Intl.NumberFormat(language, { ...digits, useGrouping: false });
      for (const value of [0, -0, 0.004, -0.004, 0.05, 1, 1.25, -3.999, 999.995, 1234567.891]) {
        expect(number(value, decimals)).toBe(intl.format(Number(value.toFixed(decimals)) + 0));
      }
    }
  });
});

describe("lengths", () => {
  // 1 ft = 0.3048 m, 1 in = 25.4 mm (international yard and pound agreement, 1959).
  it.each([
    [0.3048, "1 ft"],
    [0.0254, "1 in"],
    [4.2, "13 ft 9 3/8 in"],
    [0.003175, "1/8 in"],
    [0.9144 - 0.0015, "3 ft"],
    [1, "3 ft 3 3/8 in"],
    [0, "0 in"],
    [-0.3048, "-1 ft"],
    [-0.0001, "0 in"],
  ])("%f m are %s", (lengthM, text) => {
    expect(feetAndInches(lengthM)).toBe(text);
  });

  it("are within a sixteenth of an inch when read back", () => {
    for (let k = 0; k < 2000; k++) {
      const lengthM = 0.0137 * k;
      const text = feetAndInches(lengthM);
      const feet = Number(/(\d+) ft/.exec(text)?.[1] ?? 0);
      const rest = /(?:(\d+) )?(\d+)\/(\d+) in/.exec(text);
      const whole = rest ? Number(rest[1] ?? 0) : Number(/(\d+) in/.exec(text)?.[1] ?? 0);
      const inches = 12 * feet + whole + (rest ? Number(rest[2]) / Number(rest[3]) : 0);
      expect(Math.abs(inches * 0.0254 - lengthM)).toBeLessThanOrEqual(0.0254 / 16 + 1e-9);
    }
  });

  it("have the decimal sign of the language, and no minus before nothing", () => {
    expect(measuresOf("de", "m").length(4.2)).toBe("4,20 m");
    expect(measuresOf("en", "m").length(-0.001)).toBe("0.00 m");
    expect(measuresOf("en", "m").size(200)).toBe("200 m");
    expect(measuresOf("en", "ft").area(100)).toBe("1076 ft²");
  });
});
