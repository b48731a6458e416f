/** Another plan from the files that the reader chooses. */

import { done, failed, type Outcome, type Problem } from "../../model/finding.ts";
import type { LonLat } from "../../model/geometry.ts";
import type { OtherPlan } from "../model/page-data.ts";
import { placedAt } from "../model/place-model.ts";
import { planOfGeojson } from "../model/plan-of-geojson.ts";
import { readPage } from "./read-page.ts";

export interface TextFile {
  readonly name: string;
  readonly text: string;
}

const isPage = ({ name }: TextFile) => /\.html?$/i.test(name);

/** Whether a file is a plan rather than a site: a page, or wire with the kinds of plan.geojson. */
export function isPlanFile(file: TextFile): boolean {
  return isPage(file) || /"kind"\s*:\s*"boundary-wire"/.test(file.text);
}

/**
 * @param files a plan.html; or a plan.geojson, with its summary.json where that is at hand
 * @param origin of the site grid that it is to lie in
 * @returns problems: those of `readPage`, OTHER_PLAN_UNREADABLE, OTHER_PLAN_ELSEWHERE
 */
export function readOther(files: readonly TextFile[], origin: LonLat): Outcome<OtherPlan> {
  const page = files.find(isPage);
  const drawn = files.find((file) => !isPage(file) && isPlanFile(file));
  const summary = files.find((file) => file !== page && file !== drawn);
  const main = page ?? drawn ?? files[0];
  const name = main?.name ?? "";
  const read = page
    ? readPage(page.text, name)
    : planOfGeojson(parsed(drawn?.text), parsed(summary?.text), name);
  if (!read.ok) return read;
  const plan = "model" in read.value ? read.value.model : read.value;
  const model = placedAt(plan, origin);
  return model ? done({ name, model }) : failed(elsewhere(name));
}

function parsed(text: string | undefined): unknown {
  if (text === undefined) return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

const elsewhere = (file: string): Problem => ({
  code: "OTHER_PLAN_ELSEWHERE",
  kind: "input",
  file,
  message: "the other plan lies more than 20 km away: it is of another site",
  remedy: "Choose a plan of the same site.",
});
