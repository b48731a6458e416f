/** What stands on drawings: the figures of the summary, names as they are, the same each time. */
import { readFileSync } from "node:fs";
import { DOMParser } from "@xmldom/xmldom";
import { beforeAll, describe, expect, it } from "vitest";
import { handOverFiles } from "../../../src/export/hand-over/hand-over-files.ts";
import { chooseLayout } from "../../../src/export/sheet/choose-layout.ts";
import { inFont, lettered, widthMm } from "../../../src/export/sheet/lettering.ts";
import { sheetsPdf } from "../../../src/export/sheet/pdf.ts";
import { sheetSvg } from "../../../src/export/sheet/svg.ts";
import { sheetFiles, sheetTexts } from "../../../src/export/sheet-files.ts";
import { loadEngine } from "../../../src/geometry/engine.ts";
import { pricedTotal } from "../../../src/handover/prices.ts";
import { messagesOf } from "../../../src/handover/words/catalogue.ts";
import type { MessageKey } from "../../../src/handover/words/messages.ts";
import { SCALES } from "../../../src/model/sheet.ts";
import { type Drawn, demoGarden, drawnOf, has, planned, textOfPdf, wordBoxes } from "./draw.ts";
import { rectangle } from "./invented-sites.ts";

const TITLE = {
  project: "Łąka & Söhne <b>",
  client: "Ωμέγα Сад",
  drawnBy: "J. Doe",
  date: "2030-04-01",
  revision: "B",
  revisions: [{ revision: "A", date: "2030-03-01", by: "JD", text: "First issue" }],
};

let garden: Drawn;
beforeAll(async () => {
  await loadEngine();
  garden = drawnOf(await planned(demoGarden()), { title: TITLE });
});

describe.skipIf(!has("pdftotext"))("the PDF, read by poppler (skipped without pdftotext)", () => {
  it("has the totals of the summary", async () => {
    const text = textOfPdf(await sheetsPdf("test", garden.sheets));
    const { totals, loops, passages, cautions } = garden.summary;
    const one = (value: number) => value.toFixed(1);
    const all = `all ${one(totals.wire_m)} ${totals.pegs} ${one(totals.paired_run_m)}`;
    expect(text).toContain(all);
    expect(text).toContain(`Wire ${one(totals.wire_to_buy_m)} m`);
    expect(text).toContain(`Pegs ${totals.pegs_to_buy}, of which ${totals.pegs} are set`);
    expect(text).toContain(`Reels ${totals.reels} of`);
    expect(text).toContain(`Mown ${one(totals.mown_m2)} m²`);
    for (const loop of loops) {
      expect(text).toContain(`${loop.loop} ${one(loop.length_m)} ${loop.pegs} `);
      expect(text).toContain(`${one(loop.length_m)} m of wire`);
      expect(text).toContain(`${one(loop.area_m2)} m² mown`);
    }
    for (const { number, width_m, wire_width_m } of passages) {
      expect(text).toContain(`P${number} ${width_m.toFixed(2)} ${wire_width_m.toFixed(2)}`);
      expect(text).toContain(`${width_m.toFixed(2)} (${wire_width_m.toFixed(2)})`);
    }
    const flat = text.replace(/\s+/g, " ");
    for (const caution of cautions) expect(flat).toContain(caution.text);
    // Each peg stands in the table, with its place along the wire.
    expect(garden.summary.totals.pegs).toBeGreaterThan(150);
    for (const peg of garden.result.plan.loops.flatMap((loop) => loop.pegs))
      expect(text, peg.number).toContain(`\n${peg.number} ${peg.chainageM.toFixed(2)} `);
  });

  it("has the title block as it was given, in other alphabets too", async () => {
    const text = textOfPdf(await sheetsPdf("test", garden.sheets));
    for (const part of [TITLE.project, TITLE.client, "J. Doe", "2030-04-01", "First issue"])
      expect(text).toContain(part);
    expect(text).toContain("1:200 on A3");
    expect(text).toContain("1 of 2");
  });

  it("has what to buy line by line, and the bill where there are prices", async () => {
    const { totals, profile_values } = garden.summary;
    const items = [
      { name: "Peg", per: "peg" as const, unitPrice: 0.5 },
      { name: "Wire", per: "wire_m" as const, unitPrice: 0.25 },
    ];
    const priceList = { currency: "EUR", taxRate: 0.2, items };
    const { plan, quantities } = garden.result;
    const prices = pricedTotal(plan, quantities, priceList);
    const result = { ...garden.result, priceList, prices };
    const text = textOfPdf(await sheetsPdf("test", drawnOf(result).sheets));
    const one = (value: number) => value.toFixed(1);
    expect(text).toContain(
      `Pegs pieces ${totals.pegs} ${totals.pegs_to_buy - totals.pegs} ${totals.pegs_to_buy}`,
    );
    expect(text).toContain(`Boundary wire m ${one(totals.wire_m)}`);
    expect(text).toContain(` ${one(totals.wire_to_buy_m)}\n`);
    expect(text).toContain(
      `Reels of ${profile_values.wire.reel_m} m pieces ${totals.reels} 0 ${totals.reels}`,
    );
    // Worked by hand from the figures of the summary: amounts to the cent, tax on their sum.
    const cents = (value: number) => Math.round(value * 100) / 100;
    const net = cents(cents(totals.pegs_to_buy * 0.5) + cents(totals.wire_to_buy_m * 0.25));
    const tax = cents(net * 0.2);
    for (const line of [
      `net ${net.toFixed(2)}`,
      `tax 20 % ${tax.toFixed(2)}`,
      `total ${(net + tax).toFixed(2)}`,
    ])
      expect(text).toContain(line);
  });

  it("speaks German where that is asked for: no sentence of ours is left in English", async () => {
    const german = await sheetTexts(garden.result, { language: "de" });
    const error = {
      code: "WIRE_OFF_LAWN",
      severity: "error" as const,
      message: "In English.",
      remedy: "",
      atM: [1.25, -2] as const,
    };
    const result = { ...garden.result, findings: [...garden.result.findings, error] };
    const text = textOfPdf(
      await sheetsPdf("test", drawnOf(result, { title: TITLE }, german).sheets),
    );
    const flat = text.replace(/\s+/g, " ");
    const [english, own] = [await messagesOf("en"), await messagesOf("de")];
    const sentences = Object.entries(english).filter(
      ([key, value]) =>
        value !== own[key as MessageKey] && !/[{}]/.test(value) && value.includes(" "),
    );
    expect(sentences.length).toBeGreaterThan(80);
    // The name of the machine's profile is text of that profile.
    expect(sentences.filter(([, value]) => flat.includes(value))).toEqual([]);
    for (const key of [
      "sheet.cautions",
      "sheet.legend",
      "sheet.materials",
      "before.title",
    ] as const)
      expect(flat).toContain(own[key]);
    expect(flat).toContain(
      `${own["finding.WIRE_OFF_LAWN"]} (WIRE_OFF_LAWN, bei 1,3 m Ost, -2,0 m Nord)`,
    );
    expect(flat).not.toContain("In English.");
    const { totals } = garden.summary;
    expect(flat).toContain(`alle ${totals.wire_m.toFixed(1).replace(".", ",")} ${totals.pegs}`);
  });

  it("words are as wide as the layout takes them to be", async () => {
    const [words] = wordBoxes(await sheetsPdf("test", garden.sheets));
    const peg = words!.find(({ text }) => text === "A100")!;
    expect(peg.right - peg.left).toBeCloseTo(widthMm("A100", 1.8 / (1409 / 2048)), 1);
  });
});

describe("the SVG", () => {
  it("is well-formed, as large as the paper, with every text as text", () => {
    for (const sheet of garden.sheets) {
      const errors: string[] = [];
      const parser = new DOMParser({
        onError: (level, message) => errors.push(`${level} ${message}`),
      });
      const root = parser.parseFromString(sheetSvg(sheet), "image/svg+xml").documentElement!;
      expect(errors).toEqual([]);
      expect([root.getAttribute("width"), root.getAttribute("height")]).toEqual(["420mm", "297mm"]);
      const texts = Array.from(root.getElementsByTagName("text"), (one) => one.textContent);
      expect(texts).toContain(TITLE.project);
    }
  });
});

describe("drawings", () => {
  it("are the same bytes each time, without a date of their own", async () => {
    const again = await sheetFiles(garden.result, { title: TITLE });
    const files = await sheetFiles(garden.result, { title: TITLE });
    expect(files).toEqual(again);
    const names = ["sheet.pdf", "sheet.svg", "sheet-2.svg", "sheet-3.svg"];
    expect(files.files.map(({ name }) => name)).toEqual(names);
    const pdf = Buffer.from((files.files[0] as { bytes: Uint8Array }).bytes).toString("latin1");
    expect(pdf).not.toMatch(/CreationDate|ModDate|1970/);
    expect(pdf.startsWith("%PDF-1.7")).toBe(true);
  });

  it("have the laying guide on pages of their own, in the language asked for", async () => {
    const { files } = await sheetFiles(garden.result, {}, { handOver: { language: "de" } });
    const pages = files.flatMap((file) => ("text" in file ? [file.text] : []));
    const texts = pages.map((svg) => {
      const root = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement!;
      return Array.from(root.getElementsByTagName("text"), (one) => one.textContent).join(" ");
    });
    const guide = (await handOverFiles(garden.result, { language: "de" })).files[0]!.text;
    const plain = (text: string) => text.replace(/[\s=-]+/g, "");
    // The last sentence of the guide stands on the page of the guide, whole.
    const last = guide.trim().split("\n- ").at(-1)!;
    expect(texts.filter((text) => plain(text).includes(plain(last)))).toHaveLength(1);
    expect(texts[0]).not.toContain(last.slice(0, 20));
  });

  it("say so where a name has letters that the PDF cannot show", () => {
    const { findings } = drawnOf(garden.result, { title: { project: "庭" } });
    expect(findings.map(({ code }) => code)).toEqual(["SHEET_LETTERS_MISSING"]);
    expect(findings[0]!.message).toContain("庭");
    expect(inFont("庭a")).toBe("□a");
  });

  it("let nothing act that stands in a name", () => {
    const acting = "A\u202eB\u0007</text><script>x</script>\\) Tj (";
    const { sheets } = drawnOf(garden.result, { title: { project: acting } });
    const svg = sheetSvg(sheets[0]!);
    expect(svg).not.toContain("<script>");
    for (const char of ["\u202e", "\u0007"]) {
      expect(acting).toContain(char);
      expect(svg).not.toContain(char);
      expect(lettered(acting)).not.toContain(char);
    }
  });

  it("warn in large letters where the plan must not be laid", () => {
    const { result } = garden;
    const error = {
      code: "SOME_BREACH",
      severity: "error" as const,
      message: "The wire leaves the lawn.",
      remedy: "Mend it.",
    };
    const bad = drawnOf({ ...result, findings: [...result.findings, error] });
    const svg = sheetSvg(bad.sheets[0]!);
    expect(svg).toContain("NOT FOR LAYING");
    expect(svg).toContain("SOME_BREACH");
    expect(sheetSvg(garden.sheets[0]!)).not.toContain("NOT FOR LAYING");
  });
});

describe("paper and scale", () => {
  it("are chosen so that the site fits and pegs can be numbered, from standard scales", async () => {
    const small = await planned(rectangle(9, 8));
    const layout = chooseLayout(small.site, small.plan, {});
    expect([layout.page.paper, layout.scale, layout.tiles.length]).toEqual(["A3", 50, 1]);
    const { site, plan } = garden.result;
    expect(SCALES as readonly number[]).toContain(chooseLayout(site, plan, {}).scale);
    const large = chooseLayout(site, plan, { paper: "A4", scale: 100 });
    expect(large.tiles.length).toBeGreaterThan(1);
    expect(large.overviewScale).toBeGreaterThan(100);
    expect(large.isCoarser).toBe(false);
  });

  it("every vertex of every wire is on a sheet, whatever the scale", () => {
    const { site, plan } = garden.result;
    for (const scale of [20, 50, 100, 200, 500]) {
      const { tiles } = chooseLayout(site, plan, { paper: "A4", scale });
      for (const { wire } of plan.loops) {
        for (let i = 0; i < wire.length; i += 2) {
          const isOn = tiles.some(
            ({ box }) =>
              wire[i]! >= box.minE &&
              wire[i]! <= box.maxE &&
              wire[i + 1]! >= box.minN &&
              wire[i + 1]! <= box.maxN,
          );
          expect(isOn, `1:${scale}, vertex ${i / 2}`).toBe(true);
        }
      }
    }
  });
});

it("the lettering's licence lies beside it", () => {
  expect(readFileSync("src/export/sheet/font/OFL.txt", "utf8")).toContain("SIL OPEN FONT LICENSE");
});
