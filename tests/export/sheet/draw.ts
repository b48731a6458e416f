/** Draws sites for the tests of drawings, and looks at what was drawn with tools from outside. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { PlanResult } from "../../../src/export/plan-result.ts";
import { type Drawings, drawSheets, type SheetInput } from "../../../src/export/sheet/sheets.ts";
import { type Summary, summaryOf } from "../../../src/export/summary.ts";
import { planInputs } from "../../../src/jobs/pegline.ts";
import type { SheetRules } from "../../../src/model/sheet.ts";

export interface Drawn extends Drawings {
  readonly result: PlanResult;
  readonly summary: Summary;
}

/** A site planned from its file. */
export async function planned(bytes: Uint8Array, name = "site.geojson"): Promise<PlanResult> {
  const outcome = await planInputs([{ name, bytes }]);
  if (!outcome.ok) throw new Error(`${outcome.problem.code}: ${outcome.problem.message}`);
  return outcome.value;
}

export function drawnOf(
  result: PlanResult,
  rules: SheetRules = {},
  texts: Pick<SheetInput, "appendix" | "words"> = {},
): Drawn {
  const summary = summaryOf(result);
  return {
    ...drawSheets({ site: result.site, result, summary, rules, ...texts }),
    result,
    summary,
  };
}

export const drawn = async (bytes: Uint8Array, rules: SheetRules = {}): Promise<Drawn> =>
  drawnOf(await planned(bytes), rules);

export const demoGarden = () => new Uint8Array(readFileSync("fixtures/demo/house-garden.geojson"));

/** Whether a program can be run here; tests that need it are skipped where it cannot. */
export function has(program: string): boolean {
  try {
    execFileSync(program, ["-v"], { stdio: "ignore" });
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== "ENOENT";
  }
}

/** Runs some work in a new folder, and takes the folder away again. */
export function inFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), "pegline-sheet-"));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export interface Grey {
  readonly width: number;
  readonly height: number;
  /** 0 black to 255 white, row by row. */
  readonly pixels: Uint8Array;
}

/** A page of a PDF as poppler draws it. */
export function rendered(pdf: Uint8Array, dpi: number, page = 1): Grey {
  return inFolder((folder) => {
    writeFileSync(join(folder, "in.pdf"), pdf);
    const range = ["-f", String(page), "-l", String(page), "-singlefile"];
    execFileSync("pdftoppm", ["-r", String(dpi), "-gray", ...range, "in.pdf", "out"], {
      cwd: folder,
    });
    return pgm(join(folder, "out.pgm"));
  });
}

/** Text of all pages, in reading order of the file. */
export function textOfPdf(pdf: Uint8Array): string {
  return inFolder((folder) => {
    writeFileSync(join(folder, "in.pdf"), pdf);
    return execFileSync("pdftotext", ["-raw", "in.pdf", "-"], { cwd: folder, encoding: "utf8" });
  });
}

/** A grey picture as poppler writes it. */
export function pgm(path: string): Grey {
  const bytes = readFileSync(path);
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 64).toString("latin1"))!;
  const [width, height] = [Number(head[1]), Number(head[2])];
  return { width, height, pixels: new Uint8Array(bytes.subarray(head[0].length)) };
}

/** Boxes of words on each page as poppler has them, millimetres. */
export function wordBoxes(
  pdf: Uint8Array,
): { text: string; left: number; top: number; right: number; bottom: number }[][] {
  const html = inFolder((folder) => {
    writeFileSync(join(folder, "in.pdf"), pdf);
    return execFileSync("pdftotext", ["-bbox", "in.pdf", "-"], { cwd: folder, encoding: "utf8" });
  });
  const mm = (points: string) => (Number(points) * 25.4) / 72;
  return html
    .split("<page ")
    .slice(1)
    .map((page) =>
      [
        ...page.matchAll(
          /<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</g,
        ),
      ].map(([, left, top, right, bottom, text]) => ({
        text: text!,
        left: mm(left!),
        top: mm(top!),
        right: mm(right!),
        bottom: mm(bottom!),
      })),
    );
}
