/** Coordinates as the page's model has them: plain numbers, to 0.1 mm. */
import type { AreaM, LineM, PointM, RingM } from "../../model/geometry.ts";
import type { FlatM, Place } from "./page-model.ts";

const tenth = (value: number) => Math.round(value * 1e4) / 1e4 + 0;

export const flatPoint = ([east, north]: PointM): PointM => [tenth(east), tenth(north)];

export const flatLine = (line: LineM | RingM): FlatM => Array.from(line, tenth);

export const pointPlace = (atM: PointM): Place => ({ form: "point", at: flatPoint(atM) });

export const linePlace = (line: LineM): Place => ({ form: "line", line: flatLine(line) });

export const areaPlace = (areas: readonly AreaM[]): Place => ({
  form: "area",
  areas: areas.map(({ shell, holes }) => [shell, ...holes].map(flatLine)),
});
