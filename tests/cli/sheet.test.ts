import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { sourceFiles } from "../house/source-files.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");

it("--sheet and --scale draw the plan; without them nothing is drawn", async () => {
  const cwd = await emptyFolder();
  const plain = await pegline(["plan", GARDEN, "--out", "r"], { cwd });
  expect(plain.code).toBe(0);
  expect(await readdir(join(cwd, "r"))).not.toContain("sheet.pdf");
  const ran = await pegline(["plan", GARDEN, "--sheet", "a3", "--scale", "1:200", "--out", "r"], {
    cwd,
  });
  expect(ran.code).toBe(0);
  const names = ["plan.geojson", "sheet-2.svg", "sheet.pdf", "sheet.svg", "summary.json"];
  expect((await readdir(join(cwd, "r"))).filter((name) => names.includes(name))).toEqual(names);
  expect(`${ran.stdout}${ran.stderr}`.replace(/\s+/g, " ")).toContain("sheet.pdf, sheet.svg");
  expect(await readFile(join(cwd, "r/sheet.svg"), "utf8")).toContain("1:200 on A3");
  // The folder with drawings is a result of ours, and is replaced by one without.
  expect((await pegline(["plan", GARDEN, "--out", "r"], { cwd })).code).toBe(0);
  expect(await readdir(join(cwd, "r"))).not.toContain("sheet.pdf");
});

it("the site file says paper, scale and title block; the command line wins", async () => {
  const cwd = await emptyFolder();
  const sheet = {
    paper: "A3",
    scale: 500,
    client: "R. Roe",
    date: "2030-05-01",
    drawn_by: "J. Doe",
  };
  await writeFile(join(cwd, "pegline.json"), JSON.stringify({ inputs: [GARDEN], sheet, out: "r" }));
  const ran = await pegline(["plan", "pegline.json", "--scale", "250"], { cwd });
  expect(ran.code).toBe(0);
  expect(ran.stderr).toContain("--scale in place of sheet.scale");
  const svg = await readFile(join(cwd, "r/sheet.svg"), "utf8");
  for (const part of ["1:250 on A3", "R. Roe", "2030-05-01", "J. Doe"]) expect(svg).toContain(part);
  await writeFile(
    join(cwd, "pegline.json"),
    JSON.stringify({ inputs: [GARDEN], sheet: { scale: 300 } }),
  );
  const wrong = await pegline(["plan", "pegline.json"], { cwd });
  expect(wrong.code).toBe(2);
  expect(wrong.stderr).toContain("sheet.scale");
});

it("refuses other paper and other scales", async () => {
  const cwd = await emptyFolder();
  for (const [option, value, code] of [
    ["--sheet", "A7", "SHEET_OPTION_INVALID"],
    ["--scale", "1:300", "SCALE_OPTION_INVALID"],
    ["--scale", "big", "SCALE_OPTION_INVALID"],
  ] as const) {
    const ran = await pegline(["plan", GARDEN, option, value], { cwd });
    expect([ran.code, ran.stderr.includes(code)]).toEqual([2, true]);
  }
});

it("--image puts the picture into the page, too", async () => {
  const cwd = await emptyFolder();
  // One red cell (PNG) over the demo garden, its world file and its system beside it.
  const red =
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4z8AAAAMBAQDJ/pLvAAAAAElFTkSuQmCC";
  await writeFile(join(cwd, "red.png"), Buffer.from(red, "base64"));
  await writeFile(join(cwd, "red.pgw"), "0.001\n0\n0\n-0.001\n-28.5\n47.25\n");
  await writeFile(
    join(cwd, "red.prj"),
    'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]',
  );
  const args = ["plan", GARDEN, "--image", "red.png", "--out", "r"];
  expect((await pegline(args, { cwd })).code).toBe(0);
  const html = await readFile(join(cwd, "r/plan.html"), "utf8");
  const block = /<script type="application\/json" id="pegline-picture">(.*?)<\/script>/.exec(html);
  const picture = JSON.parse(block![1]!);
  expect(picture.url).toBe(`data:image/png;base64,${red}`);
  // A thousandth of a degree of latitude there is 111.2 m (WGS 84), of longitude 75.7 m.
  const [a, , , d] = picture.toGrid;
  expect(a).toBeCloseTo(75.68, 0);
  expect(d).toBeCloseTo(-111.18, 0);
});

it("the code for drawings is loaded only where they are wanted", async () => {
  const OF_DRAWINGS =
    /^(?:import|export) (?!type )(?:(?!;\n)[\s\S])*? from "[^"]*(?:sheet-files\.ts|\/sheet\/[a-z-]+\.ts|pdfkit)";/gm;
  // The test itself can fail:
  expect('import { a } from "./sheet/pdf.ts";'.match(OF_DRAWINGS)).toHaveLength(1);
  expect('import type { A } from "./sheet/pdf.ts";'.match(OF_DRAWINGS)).toBeNull();
  const files = [...(await sourceFiles("src")), ...(await sourceFiles("cli"))];
  const wrong = files
    .filter(({ path }) => !path.startsWith("src/export/sheet/"))
    .filter(
      ({ path }) => !["src/export/sheet-files.ts", "src/jobs/picture-beneath.ts"].includes(path),
    )
    .filter(({ text }) => text.match(OF_DRAWINGS) !== null);
  expect(wrong.map(({ path }) => path)).toEqual([]);
});
