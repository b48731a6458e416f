/** What the reader has chosen or let fall, told apart: a plan to compare, or files of a site. Pure. */
import type { InputFile } from "../../model/features.ts";
import { isPlanFile, type TextFile } from "../html/read-other.ts";

export interface SortedFiles {
  /** Of a plan: its page, or its GeoJSON, with the summary where it is there. */
  readonly plan: readonly TextFile[];
  /** A `.shp` with its parts is one. */
  readonly inputs: readonly InputFile[];
  /** Parts of a shapefile that is not there. */
  readonly leftOver: readonly string[];
}

/** Parts of a shapefile that are read together with its `.shp`. */
const PARTS = /\.(?:dbf|prj|cpg|shx)$/i;
/** Parts that nobody reads, and that come along with the others. */
const NEEDLESS = /\.(?:sbn|sbx|qpj|qmd|fix|shp\.xml)$/i;
const MAY_BE_PLAN = /\.(?:html?|geojson|json)$/i;

export function sortedFiles(files: readonly InputFile[]): SortedFiles {
  const texts = files
    .filter(({ name }) => MAY_BE_PLAN.test(name))
    .map(({ name, bytes }) => ({ name, text: new TextDecoder().decode(bytes) }));
  const plans = texts.filter(isPlanFile);
  const summary = texts.filter(({ name }) => /^summary\.json$/i.test(name));
  const plan = plans.length > 0 ? [...plans, ...summary] : [];
  const taken = new Set(plan.map(({ name }) => name));
  const rest = files.filter(({ name }) => !taken.has(name) && !NEEDLESS.test(name));
  const parts = rest.filter(({ name }) => PARTS.test(name));
  const shapes = rest.filter(({ name }) => /\.shp$/i.test(name));
  const isOf = (part: InputFile) => (shape: InputFile) => stem(shape.name) === stem(part.name);
  return {
    plan,
    inputs: rest
      .filter((file) => !parts.includes(file))
      .map((file) => {
        const own = shapes.includes(file) ? parts.filter((part) => isOf(part)(file)) : [];
        if (own.length === 0) return file;
        const siblings = own.map(({ name, bytes }) => [ending(name), bytes] as const);
        return { ...file, siblings: Object.fromEntries(siblings) };
      }),
    leftOver: parts.filter((part) => !shapes.some(isOf(part))).map(({ name }) => name),
  };
}

const ending = (name: string) => name.slice(name.lastIndexOf(".")).toLowerCase();
const stem = (name: string) => name.slice(0, name.lastIndexOf(".")).toLowerCase();
