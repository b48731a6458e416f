import { type PageModel, type PageShape, SHAPE_KINDS } from "./page-model.ts";

/**
 * Whether a value from a file is a model that the page can show: every list and every number that is
 * drawn or added up is what it should be. Texts are shown as texts, whatever they hold.
 */
export function isPageModel(value: unknown): value is PageModel {
  if (!isRecord(value)) return false;
  const model = value as unknown as PageModel;
  return (
    isText(model.version) &&
    isText(model.siteName) &&
    isRecord(model.grid) &&
    isPair(model.grid.origin) &&
    isNumbers(model.extent, 4) &&
    isRecord(model.machine) &&
    isRecord(model.totals) &&
    Object.values(model.totals).every(isNumber) &&
    (["en", "de"] as unknown[]).includes(model.language) &&
    (["m", "ft"] as unknown[]).includes(model.units) &&
    isList(model.loops, (one) => isText(one.name) && isNumber(one.wireM)) &&
    isList(model.shapes, isShape) &&
    isList(model.pegs, (one) => isText(one.id) && isText(one.number) && isPair(one.at)) &&
    isList(model.passages, (one) => isText(one.id) && isPair(one.at)) &&
    isList(model.findings, (one) => isText(one.code) && (one.at === undefined || isPair(one.at))) &&
    isList(model.cautions, isRecord) &&
    isList(model.materials, isRecord) &&
    isList(model.joints, isRecord) &&
    isList(model.walks, (one) => isList(one.stops, (stop) => isPair(stop.at))) &&
    isRecord(model.guide)
  );
}

function isShape(shape: PageShape): boolean {
  const { place } = shape;
  if (!isText(shape.id) || !SHAPE_KINDS.includes(shape.kind) || !isRecord(place)) return false;
  if (!Array.isArray(shape.figures)) return false;
  if (place.form === "point") return isPair(place.at);
  if (place.form === "line") return isNumbers(place.line);
  return (
    place.form === "area" && isLists(place.areas, (area) => isLists(area, (r) => isNumbers(r)))
  );
}

const isText = (value: unknown): value is string => typeof value === "string";
const isNumber = (value: unknown): value is number => Number.isFinite(value);
const isRecord = (value: unknown): boolean =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const isNumbers = (value: unknown, count?: number): boolean =>
  Array.isArray(value) && (count === undefined || value.length === count) && value.every(isNumber);
const isPair = (value: unknown): boolean => isNumbers(value, 2);
const isList = <T>(value: readonly T[], is: (one: T) => boolean): boolean =>
  isLists(value, (one) => isRecord(one) && is(one));
const isLists = <T>(value: readonly T[], is: (one: T) => boolean): boolean =>
  Array.isArray(value) && value.every(is);
