/** Targets that stand beside a sound site: rasters of heights, and plans given to `pegline check`. */
import { readFileSync } from "node:fs";
import { asLaidGeojson, asLaidResult } from "../../src/export/as-laid-result.ts";
import { asLaidText } from "../../src/export/as-laid-text.ts";
import { breakResult } from "../../src/export/break-result.ts";
import { breakText } from "../../src/export/break-text.ts";
import { checkResult } from "../../src/export/check-result.ts";
import { checkText } from "../../src/export/check-text.ts";
import { conversionResult } from "../../src/export/exchange/conversion-result.ts";
import { FORMAT_NAMES } from "../../src/export/exchange/formats.ts";
import type { PlanResult } from "../../src/export/plan-result.ts";
import { mendLoop } from "../../src/handover/mend/mend-loop.ts";
import { quantitiesOf } from "../../src/handover/quantities.ts";
import { openRaster } from "../../src/import/raster/open-raster.ts";
import { compareInputs } from "../../src/jobs/compare.ts";
import { convertPlan } from "../../src/jobs/convert-plan.ts";
import { checkInputs, planInputs, readSite } from "../../src/jobs/pegline.ts";
import { terrainOfPlan } from "../../src/jobs/plan-terrain.ts";
import { readPlan } from "../../src/jobs/read-plan.ts";
import { heightsOfSite } from "../../src/jobs/site-heights.ts";
import type { InputFile } from "../../src/model/features.ts";
import type { Site } from "../../src/model/site.ts";
import { BadAnswer, checkFindings, checkOutcome, checkWritable } from "./answers.ts";
import { changeBytes, changeText, headOf, onePart } from "./change.ts";
import { GRID_WORDS, JSON_WORDS, PLAN_WORDS, WKT_WORDS } from "./dictionaries.ts";
import { BYTE_MUTATIONS } from "./mutate/bytes.ts";
import { changeJson } from "./mutate/json.ts";
import { changeCells, changeNodes } from "./mutate/markup.ts";
import { checkFiles, registry } from "./read-site.ts";
import { file, type Parts } from "./seeds.ts";
import type { Target } from "./target.ts";

const OWN = "tests/fuzz/corpus";

interface Sound {
  readonly inputs: readonly InputFile[];
  readonly site: Site;
  readonly planned: PlanResult;
}

let made: Promise<Sound> | undefined;

/** The lawn of the corpus, read and planned once. */
function sound(): Promise<Sound> {
  made ??= (async () => {
    const inputs = [
      { name: "lawn.geojson", bytes: new Uint8Array(readFileSync(`${OWN}/lawn.geojson`)) },
    ];
    const [site, planned] = [await readSite(inputs), await planInputs(inputs)];
    if (!site.ok || !planned.ok) throw new Error("the sound lawn cannot be planned");
    return { inputs, site: site.value, planned: planned.value };
  })();
  return made;
}

const RASTER_CELLS_READ_MAX = 1e6;

/** Reads a raster whole, then lays the plan of the sound lawn on it and writes that. */
function terrain(
  id: string,
  weight: number,
  ending: string,
  change: Parameters<typeof onePart>[0][string],
  seeds: () => readonly Parts[],
): Target {
  return {
    id,
    weight,
    seeds,
    mutate: onePart({ [ending]: change, ".prj": changeText([changeNodes], WKT_WORDS) }, ending),
    read: async (parts) => {
      const { [ending]: bytes, ...siblings } = parts;
      const input = { name: `fuzz${ending}`, bytes: bytes!, siblings };
      const raster = await openRaster(input);
      const codes = raster === undefined ? [] : checkOutcome(raster);
      if (raster?.ok && raster.value.columns * raster.value.rows <= RASTER_CELLS_READ_MAX) {
        const { columns, rows } = raster.value;
        codes.push(
          ...checkOutcome(
            await raster.value.read({ left: 0, top: 0, right: columns, bottom: rows }),
          ),
        );
      }
      const { site, planned } = await sound();
      const heights = await heightsOfSite({ file: input }, site, undefined, registry);
      codes.push(...checkOutcome(heights));
      if (!heights.ok || !heights.value) return { end: "refused", codes };
      const { ground, findings } = terrainOfPlan(planned.plan, heights.value.lattice);
      const quantities = quantitiesOf(planned.plan, ground);
      checkFiles({ ...planned, ground, quantities, findings });
      return { end: "planned", codes };
    },
  };
}

const raster = changeBytes([...BYTE_MUTATIONS, headOf(16), headOf(200), headOf(400)]);

export const terrainTargets: readonly Target[] = [
  terrain("geotiff", 4, ".tif", raster, () =>
    ["heights", "heights-tiled", "heights-lzw", "heights-zstd", "heights-degrees"].map((name) =>
      file(`${OWN}/${name}.tif`),
    ),
  ),
  terrain("esri-grid", 3, ".asc", changeText([changeCells], GRID_WORDS), () => [
    { ...file(`${OWN}/heights.asc`), ...file(`${OWN}/heights.prj`) },
  ]),
];

const plans = (): readonly Parts[] => [
  file(`${OWN}/plan.geojson`, ".wire"),
  file(`${OWN}/plan.geojson`, ".wire"),
  file(`${OWN}/drawn-wire.geojson`, ".wire"),
];
const changePlan = onePart(
  { ".wire": changeText([changeJson, changeJson], [...JSON_WORDS, ...PLAN_WORDS]) },
  ".wire",
);
const planFile = (parts: Parts): InputFile => ({ name: "plan.geojson", bytes: parts[".wire"]! });

function said(text: string): void {
  if (text.trim() === "") throw new BadAnswer("nothing was said");
}

/** Whatever is written of a plan that was read: text holds no number that is none. */
function checkTexts(files: readonly { name: string; text?: string; bytes?: Uint8Array }[]): void {
  for (const { name, text } of files) {
    if (text === undefined) continue;
    if (/\bNaN\b|\bInfinity\b/.test(text.replace(/"(?:[^"\\]|\\.)*"|>[^<]*</g, '""')))
      throw new BadAnswer(`${name} holds what is no number`);
    if (/json$/.test(name)) JSON.parse(text);
  }
}

/** A wire, ours or drawn by hand, given to `pegline check` with a sound site. */
export const checkTarget: Target = {
  id: "check",
  weight: 4,
  seeds: plans,
  mutate: changePlan,
  read: async (parts) => {
    const { inputs } = await sound();
    const outcome = await checkInputs(planFile(parts), inputs, { registry });
    const codes = checkOutcome(outcome);
    if (!outcome.ok) return { end: "refused", codes };
    const { value } = outcome;
    checkFindings(value.findings);
    checkWritable(checkResult(value, value.grid));
    said(checkText(value, value.profile.name));
    return { end: "read", codes };
  },
};

/** A plan given to `pegline break`. */
export const breakTarget: Target = {
  id: "break",
  weight: 2,
  seeds: plans,
  mutate: changePlan,
  read: async (parts) => {
    const read = await readPlan(planFile(parts), { registry });
    const codes = checkOutcome(read);
    if (!read.ok) return { end: "refused", codes };
    const { plan, grid } = read.value;
    const mending = mendLoop(plan, { loop: undefined, answers: [], joints: ["A3"], ohmPerKm: 20 });
    codes.push(...checkOutcome(mending));
    if (!mending.ok) return { end: "refused", codes };
    checkWritable(breakResult(mending.value, read.findings, grid));
    said(breakText(mending.value));
    return { end: "read", codes };
  },
};

/** A walked track, given to `pegline compare` with a sound plan, and the reverse. */
export const compareTarget: Target = {
  id: "compare",
  weight: 2,
  seeds: plans,
  mutate: changePlan,
  read: async (parts) => {
    const ours = { name: "ours.geojson", bytes: file(`${OWN}/plan.geojson`)[".geojson"]! };
    const codes: string[] = [];
    let end: "read" | "refused" = "refused";
    for (const [plan, track, align] of [
      [ours, planFile(parts), false],
      [ours, planFile(parts), true],
      [planFile(parts), ours, true],
    ] as const) {
      const options = { registry, noiseM: 0.02, align };
      const outcome = await compareInputs(plan, [track], [], options);
      codes.push(...checkOutcome(outcome));
      if (!outcome.ok) continue;
      end = "read";
      const made = { ...outcome.value, findings: outcome.findings };
      checkWritable(asLaidResult(made));
      checkWritable(asLaidGeojson(made));
      said(asLaidText(made));
    }
    return { end, codes };
  },
};

/** A plan given to `pegline convert`, to every format. */
export const convertTarget: Target = {
  id: "convert",
  weight: 1,
  seeds: plans,
  mutate: changePlan,
  read: async (parts) => {
    const outcome = await convertPlan(planFile(parts), {
      formats: FORMAT_NAMES,
      outCrs: undefined,
      crs: undefined,
      registry,
    });
    const codes = checkOutcome(outcome);
    if (!outcome.ok) return { end: "refused", codes };
    checkWritable(conversionResult("plan.geojson", outcome.value, outcome.findings));
    checkTexts(outcome.value.files);
    return { end: "read", codes };
  },
};
