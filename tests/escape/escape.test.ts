import { DOMParser } from "@xmldom/xmldom";
import fc from "fast-check";
import Papa from "papaparse";
import { type DefaultTreeAdapterMap, parseFragment } from "parse5";
import { describe, expect, it } from "vitest";
import { csvCell, csvRow, csvTextOf } from "../../src/escape/csv.ts";
import { dxfName, dxfParagraph, dxfText } from "../../src/escape/dxf.ts";
import { fileName, fileNames } from "../../src/escape/file-name.ts";
import { shownLines, shownText } from "../../src/escape/hidden.ts";
import { htmlAttribute, htmlText } from "../../src/escape/html.ts";
import { jsonInScript, jsonText } from "../../src/escape/json.ts";
import { kmlDescription, kmlText } from "../../src/escape/kml.ts";
import { pdfName, pdfText } from "../../src/escape/pdf.ts";
import { terminalName, terminalSentence } from "../../src/escape/terminal.ts";
import { xmlAttribute, xmlText } from "../../src/escape/xml.ts";
import { HOSTILE } from "./hostile.ts";

/** Any text, and text made of pieces of the corpus. Seeded, so that a failure comes again. */
const TEXT = fc.oneof(
  fc.string({ unit: "binary", maxLength: 40 }),
  fc.string({ unit: "grapheme", maxLength: 40 }),
  fc
    .array(fc.constantFrom(...HOSTILE.filter((one) => one.length < 200)), { maxLength: 4 })
    .map((parts) => parts.join("")),
);

/** Checks every text of the corpus, then random ones. */
function forAll(check: (text: string) => void): void {
  for (const text of HOSTILE) check(text);
  fc.assert(
    fc.property(TEXT, (text) => check(text)),
    { seed: 7, numRuns: Number(process.env.PEGLINE_RUNS ?? 500) },
  );
}

/** What terminals obey (ECMA-48: C0, DEL, C1) and what turns text (the nine of CVE-2021-42574). */
const OBEYED = /[\p{Cc}\u202a-\u202e\u2066-\u2069\u2028\u2029\u200b\u2060\ufeff]/u;

describe("on a terminal", () => {
  it("nothing of a name is obeyed, turned or hidden", () => {
    forAll((text) => {
      expect(terminalName(text)).not.toMatch(OBEYED);
      expect(terminalSentence(text)).not.toMatch(OBEYED);
      expect(shownLines(text).replaceAll("\n", "")).not.toMatch(OBEYED);
    });
  });

  it("twice is as once", () => {
    forAll((text) => {
      expect(shownText(shownText(text))).toBe(shownText(text));
    });
  });

  it("plain names of many scripts stay as they are", () => {
    for (const name of [
      "Teich Süd",
      "Étang",
      "芝生 2",
      "лужайка",
      "גן",
      "نمی\u200cخواهم",
      "👩\u200d🌾 ❤\ufe0f",
      "o\u0301",
      "क्\u200dष",
    ])
      expect(terminalName(name)).toBe(name);
  });

  it("what is taken out leaves a sign, line ends a space", () => {
    expect(terminalName("Pond\u001b[31m\u202e red\r\n")).toBe("Pond\ufffd[31m\ufffd red");
    expect(terminalName("a\r\nb\tc")).toBe("a b c");
    expect(terminalName("po\u200bnd")).toBe("po\ufffdnd");
    expect(terminalName(`Z${"\u0300".repeat(60)}`)).toBe(`Z${"\u0300".repeat(4)}\ufffd`);
  });

  it("long ones are cut, with a sign, and never inside a character", () => {
    const cut = terminalName(`begin${"x".repeat(5000)}end`);
    expect(cut).toMatch(/^begin.*… \[\d+ characters left out\] ….*end$/);
    expect(cut.length).toBeLessThan(140);
    expect(terminalName("x".repeat(100))).toBe("x".repeat(100));
    const families = terminalName("👩\u200d🌾".repeat(200));
    expect(families.replaceAll("👩\u200d🌾", "")).toMatch(/^… \[\d+ characters left out\] …$/);
    const huge = terminalSentence("é".repeat(10_000_000));
    expect(huge.length).toBeLessThan(900);
  });
});

describe("JSON", () => {
  it("reads back as it was, and shows nothing that acts", () => {
    forAll((text) => {
      const value = { [text === "__proto__" ? "p" : text]: [text, 1.5, null] };
      for (const written of [jsonText(value), jsonText(value, 2), jsonInScript(value)]) {
        expect(JSON.parse(written)).toEqual(value);
        expect(written.replaceAll("\n", "")).not.toMatch(OBEYED);
      }
    });
  });

  it("is the usual text where nothing acts", () => {
    const value = { name: "Teich Süd", at: [1, 2], none: null };
    expect(jsonText(value, 2)).toBe(JSON.stringify(value, null, 2));
    expect(jsonText("\u001b\u009b\u202e")).toBe('"\\u001b\\u009b\\u202e"');
  });

  it("in a script cannot end it nor open a comment", () => {
    forAll((text) => {
      expect(jsonInScript({ text })).not.toMatch(/[<>&\u2028\u2029]/);
    });
  });
});

describe("XML, SVG and KML", () => {
  // The text that XML can carry: what is no Char is U+FFFD.
  const carried = (text: string) =>
    Array.from(text, (char) =>
      /[\t\n\r\x20-\ud7ff\ue000-\ufffd]/.test(char) || char.length === 2 ? char : "\ufffd",
    ).join("");
  const parsed = (xml: string) =>
    new DOMParser({
      onError: (level, message) => {
        // A hint that U+FFFD may be the trace of a wrong encoding: here it is meant.
        if (level === "warning" && message.includes("replacement character")) return;
        throw new Error(`${level}: ${message}`);
      },
    }).parseFromString(xml, "text/xml").documentElement!;

  it("text and attributes read back as they were, and hold no element", () => {
    forAll((text) => {
      const root = parsed(
        `<a b="${xmlAttribute(text)}" c='${xmlAttribute(text)}'>x${xmlText(text)}</a>`,
      );
      expect(root.textContent).toBe(`x${carried(text)}`);
      expect(root.getAttribute("b")).toBe(carried(text));
      expect(root.getAttribute("c")).toBe(carried(text));
      expect(root.attributes.length).toBe(2);
      expect(Array.from(root.childNodes).every((node) => node.nodeType === 3)).toBe(true);
    });
  });

  it("a description of KML is plain text of HTML once the XML is read", () => {
    forAll((text) => {
      const html = parsed(`<d>x${kmlDescription(text)}</d>`).textContent!;
      expect(html).not.toMatch(/[<>"']|\$\[/);
      expect(html.replaceAll("&#91;", "[")).toBe(`x${htmlText(text)}`.replaceAll("\f", "\ufffd"));
      expect(kmlText(text)).toBe(xmlText(text));
    });
  });
});

describe("HTML", () => {
  /** What a page can carry: the rest is U+FFFD. */
  const carried = (text: string) =>
    text.replace(/(?![\t\n\f\r])[\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}]/gu, "\ufffd");
  type Element = DefaultTreeAdapterMap["element"];
  type Text = DefaultTreeAdapterMap["textNode"];

  it("text and attributes read back as they were, and hold no element", () => {
    forAll((text) => {
      const page = parseFragment(
        `<p title="${htmlAttribute(text)}" class='${htmlAttribute(text)}'>x${htmlText(text)}</p>`,
      );
      expect(page.childNodes).toHaveLength(1);
      const { attrs, childNodes } = page.childNodes[0] as Element;
      expect(attrs.map(({ value }) => value)).toEqual([carried(text), carried(text)]);
      expect(childNodes.map((node) => (node as Text).value)).toEqual([`x${carried(text)}`]);
    });
  });

  it("JSON in a script is read back by way of the page", () => {
    forAll((text) => {
      const page = parseFragment(
        `<script type="application/json">${jsonInScript({ text })}</script>`,
      );
      expect(page.childNodes).toHaveLength(1);
      const [content] = (page.childNodes[0] as Element).childNodes as Text[];
      expect(JSON.parse(content!.value)).toEqual({ text });
    });
  });
});

describe("CSV", () => {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: what no table needs
  const NO_TEXT = /(?![\t\r\n])[\u0000-\u001f\u007f-\u009f]|\p{Cs}/gu;

  it("cells read back as they were made", () => {
    forAll((text) => {
      const { data } = Papa.parse(csvRow([text, 1, text]).slice(0, -2), {
        delimiter: ",",
        newline: "\r\n",
      });
      expect(data).toHaveLength(1);
      const [first, number, last] = data[0]!;
      const carried = text.replace(NO_TEXT, "\ufffd");
      expect([csvTextOf(first!), number, csvTextOf(last!)]).toEqual([carried, "1", carried]);
    });
  });

  it("no cell begins as a formula, whatever a spreadsheet passes over first", () => {
    forAll((text) => {
      const cell = csvCell(text).slice(1, -1);
      expect(cell).not.toMatch(/^[\s\u00a0\u200b\u2060\ufeff]*[=+\-@＝＋－＠]/);
      expect(cell).not.toMatch(/^[\t\r\n]/);
    });
  });

  it("numbers stay numbers, also below nought", () => {
    expect(csvRow([-12.5, 0, 1e21, null, Number.NaN, "-12.5", "Pond"])).toBe(
      `-12.5,0,1e+21,,,"'-12.5","Pond"\r\n`,
    );
  });
});

describe("PDF", () => {
  /** Reads a string token after ISO 32000-1, 7.3.4.2 and 7.3.4.3; fails where it ends too early. */
  function read(token: string): string {
    if (token.startsWith("<")) {
      expect(token).toMatch(/^<FEFF([0-9A-F]{4})*>$/);
      const units = token.slice(5, -1).match(/.{4}/g) ?? [];
      return String.fromCharCode(...units.map((unit) => Number.parseInt(unit, 16)));
    }
    let depth = 0;
    let text = "";
    for (let i = 0; i < token.length; i++) {
      const char = token[i]!;
      if (char === "\\") text += token[++i];
      else if (char === "(") depth++;
      else if (char === ")") depth--;
      else text += char;
      if (depth === 0) expect(i).toBe(token.length - 1);
    }
    expect(depth).toBe(0);
    return text;
  }

  it("strings read back as they were and end where they should", () => {
    forAll((text) => {
      const token = pdfText(text);
      expect(token).toMatch(/^[\x20-\x7e]*$/);
      expect(read(token)).toBe(text);
    });
  });

  it("names hold regular characters only (the examples of table 4)", () => {
    expect(pdfName("Lime Green")).toBe("/Lime#20Green");
    expect(pdfName("paired()parentheses")).toBe("/paired#28#29parentheses");
    expect(pdfName("The_Key_of_F#_Minor")).toBe("/The_Key_of_F#23_Minor");
    forAll((text) => {
      expect(pdfName(text)).toMatch(/^\/(?:[!$&'*-.0-;=?-Z^-z|~\\"+,]|#[0-9A-F]{2})*$/);
    });
  });
});

describe("DXF", () => {
  /** Reads text as the DXF reference says: %%%, caret codes, numbered characters. */
  const read = (text: string) =>
    text
      .replace(/%%%/g, "%")
      .replace(/\^ /g, "^")
      .replace(/\\U\+([0-9A-F]{4})/g, (_, code) => String.fromCharCode(Number.parseInt(code, 16)));

  it("text is one line of printable ASCII, without codes, and reads back as it shows", () => {
    forAll((text) => {
      const written = dxfText(text);
      expect(written).toMatch(/^[\x20-\x7e]*$/);
      expect(written.replaceAll("%%%", "")).not.toMatch(/%%/);
      expect(written).not.toMatch(/\^(?! )|\\(?!U\+[0-9A-F]{4})/);
      expect(read(written)).toBe(shownText(text));
    });
  });

  it("paragraphs have no codes but line ends and what is escaped", () => {
    forAll((text) => {
      const written = dxfParagraph(text);
      expect(written).toMatch(/^[\x20-\x7e]*$/);
      expect(written.replace(/\\[\\{}P]|\\U\+[0-9A-F]{4}/g, "")).not.toMatch(/[\\{}]/);
    });
    expect(dxfParagraph("a\r\n{\\b}")).toBe("a\\P\\{\\\\b\\}");
  });

  it("names hold none of the forbidden characters and are not too long", () => {
    forAll((text) => {
      const name = dxfName(text, "layer");
      expect(name.replace(/\\U\+[0-9A-F]{4}/g, "")).toMatch(/^[^<>/\\":;?*|=,'`^%]*$/);
      expect(name.length).toBeGreaterThan(0);
      expect(name.length).toBeLessThanOrEqual(255);
    });
  });
});

describe("names of files", () => {
  it("fit every usual system", () => {
    forAll((text) => {
      const name = fileName(text, "plan");
      expect(name).not.toMatch(/[<>:"/\\|?*\p{Cc}]|^[\s.~-]|[\s.]$|^$/u);
      expect(name).not.toMatch(/^(?:con|prn|aux|nul|com\d|lpt\d)\s*(?:\.|$)/i);
      expect(Buffer.byteLength(name)).toBeLessThanOrEqual(201);
      expect(fileName(name, "plan")).toBe(name);
    });
  });

  it("are told apart where case does not count", () => {
    expect(fileNames(["Lawn", "lawn", "LAWN", "", "plan", "o\u0301", "\u00f3"], "plan")).toEqual([
      "Lawn",
      "lawn-2",
      "LAWN-3",
      "plan",
      "plan-2",
      "\u00f3",
      "\u00f3-2",
    ]);
    fc.assert(
      fc.property(fc.array(TEXT, { maxLength: 20 }), (texts) => {
        const names = fileNames(texts, "plan").map((name) => name.toLowerCase());
        expect(new Set(names).size).toBe(texts.length);
      }),
      { seed: 7, numRuns: 200 },
    );
  });
});
