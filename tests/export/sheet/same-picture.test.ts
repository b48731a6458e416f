/** PDF and SVG show the same: one drawn by poppler, the other by librsvg, compared pixel by pixel. */
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { unzlibSync } from "fflate";
import { beforeAll, describe, expect, it } from "vitest";
import { decodeBase64 } from "../../../src/export/base64.ts";
import { ARIMO_BOLD, ARIMO_REGULAR } from "../../../src/export/sheet/font/arimo.data.ts";
import { sheetsPdf } from "../../../src/export/sheet/pdf.ts";
import { sheetSvg } from "../../../src/export/sheet/svg.ts";
import { loadEngine } from "../../../src/geometry/engine.ts";
import { demoGarden, drawn, type Grey, has, inFolder, pgm, rendered } from "./draw.ts";

beforeAll(() => loadEngine());

const DPI = 100;
const isHere = has("pdftoppm") && has("rsvg-convert") && has("pdftocairo");

/** An SVG as librsvg draws it, with the lettering of the drawings among the fonts. */
function renderedSvg(svg: string): Grey {
  return inFolder((folder) => {
    writeFileSync(join(folder, "a.ttf"), unzlibSync(decodeBase64(ARIMO_REGULAR)));
    writeFileSync(join(folder, "b.ttf"), unzlibSync(decodeBase64(ARIMO_BOLD)));
    writeFileSync(
      join(folder, "fonts.conf"),
      `<?xml version="1.0"?><fontconfig><dir>${folder}</dir><cachedir>${folder}</cachedir></fontconfig>`,
    );
    writeFileSync(join(folder, "in.svg"), svg);
    const env = { ...process.env, FONTCONFIG_FILE: join(folder, "fonts.conf") };
    // As a PDF, so that both pictures come from one rasteriser.
    execFileSync("rsvg-convert", ["-f", "pdf", "-o", "out.pdf", "in.svg"], { cwd: folder, env });
    execFileSync("pdftoppm", ["-r", String(DPI), "-gray", "-singlefile", "out.pdf", "out"], {
      cwd: folder,
    });
    return pgm(join(folder, "out.pgm"));
  });
}

/** Share of pixels that are dark in one and light in the other, but for a pixel's width at edges. */
function differing(a: Grey, b: Grey): number {
  expect(Math.abs(a.width - b.width)).toBeLessThan(3);
  expect(Math.abs(a.height - b.height)).toBeLessThan(3);
  let ink = 0;
  let wrong = 0;
  for (let y = 2; y < Math.min(a.height, b.height) - 2; y++) {
    for (let x = 2; x < Math.min(a.width, b.width) - 2; x++) {
      if (a.pixels[y * a.width + x]! > 140) continue;
      ink++;
      let near = 255;
      for (let dy = -1; dy <= 1; dy++)
        for (let dx = -1; dx <= 1; dx++)
          near = Math.min(near, b.pixels[(y + dy) * b.width + x + dx]!);
      if (near > 180) wrong++;
    }
  }
  return wrong / ink;
}

describe.skipIf(!isHere)("the two renderers (skipped without poppler and librsvg)", () => {
  it("draw the same picture of the demo garden", async () => {
    const { sheets } = await drawn(demoGarden());
    const pdf = await sheetsPdf("test", sheets);
    const [first, second] = sheets.map((sheet) => renderedSvg(sheetSvg(sheet)));
    const page = rendered(pdf, DPI, 1);
    expect(differing(page, first!)).toBeLessThan(0.01);
    expect(differing(first!, page)).toBeLessThan(0.01);
    // The test itself can fail: another sheet is another picture.
    expect(differing(page, second!)).toBeGreaterThan(0.3);
  });
});
