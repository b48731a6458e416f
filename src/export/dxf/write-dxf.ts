/** DXF of release 2004 (AC1018), text form: a layer for each style, attributes as extended data. */
import { strToU8 } from "fflate";
import { dxfName, dxfText } from "../../escape/dxf.ts";
import { CRS_COMMENT } from "../../import/dxf/plan-data.ts";
import { linesOf } from "../../model/lines-of.ts";
import type { DrawnFeature, DrawnPlan } from "../exchange/drawn-plan.ts";
import { labelOf } from "../exchange/label.ts";
import type { Loss, Written } from "../exchange/written.ts";
import { STYLE_NAMES, type StyleName, styleNamed } from "../style/plan-style.ts";
import { EntityWriter } from "./entities.ts";
import { Groups } from "./groups.ts";
import {
  type DxfLayer,
  layerName,
  layerOf,
  plainLayer,
  textLayer,
  textLayerName,
} from "./layers.ts";
import { putBlocks, putObjects, putTables } from "./tables.ts";

/** Heights of letters, metres in the drawing: 1.5 to 2.5 mm on a sheet of 1 : 100. */
const LETTER_M = 0.15;
const LARGE_LETTER_M = 0.25;

/** Marks of points: a circle with a cross, of this size in metres ($PDMODE, $PDSIZE). */
const POINT_MODE = 34;
const POINT_SIZE_M = 0.12;

export function writeDxf(plan: DrawnPlan): Written {
  const { crs } = plan;
  const box = boxOf(plan.features);
  const body = new Groups();
  const used = STYLE_NAMES.filter((name) => plan.features.some(({ style }) => style === name));
  const others = new Map(
    plan.features
      .filter(({ style }) => style === undefined)
      .map(({ kind }) => [kind, layerName(dxfName(kind, "OTHER"))]),
  );
  const labelled = used.filter((name) => styleNamed(name).marker || name.startsWith("passage"));
  const layers: DxfLayer[] = [
    ...used.map(layerOf),
    ...[...new Set(others.values())].map(plainLayer),
    ...[...labelled, "notes"].map((name) => textLayer(name)),
  ];
  const spaces = putTables(body, layers, used, box);
  putBlocks(body, spaces);
  body.all(0, "SECTION", 2, "ENTITIES");
  const entities = new EntityWriter(body, spaces.model);
  // What lies on top is drawn last.
  const ordered = [...plan.features].sort((a, b) => rankOf(a.style) - rankOf(b.style));
  let [drawn, placeless] = [0, 0];
  for (const feature of ordered) {
    const { style, kind, geometry } = feature;
    const layer = style === undefined ? others.get(kind)! : layerName(style);
    const fill = style === undefined ? undefined : styleNamed(style).fill;
    if (entities.feature(feature, layer, fill)) drawn++;
    else if (geometry === null) placeless++;
    if (style !== undefined && labelled.includes(style)) putLabel(entities, feature, style);
  }
  const unitText = `Unit: ${crs.unitName}. Reference system: ${crs.name}.`;
  entities.label(unitText, [box[0], box[1] - 1], LARGE_LETTER_M, textLayerName("notes"));
  body.put(0, "ENDSEC");
  putObjects(body);
  body.put(0, "EOF");
  const losses: readonly Loss[] = [
    { features: placeless, what: "features without a place" },
    {
      features: plan.features.length - drawn - placeless,
      what: "shapes of several lines or points",
    },
    {
      features: plan.features.filter(({ style }) => style && styleNamed(style).fill?.hatch).length,
      what: "tints under hatches, and shapes of markers: points are drawn as the program draws points",
    },
  ];
  return {
    files: [
      { name: "plan.dxf", bytes: strToU8(header(plan, box, body.nextHandle).add(body).text) },
    ],
    features: drawn,
    losses: losses.filter(({ features }) => features > 0),
  };
}

const rankOf = (style: StyleName | undefined) =>
  style === undefined ? -1 : STYLE_NAMES.indexOf(style);

function putLabel(entities: EntityWriter, feature: DrawnFeature, style: StyleName): void {
  const { geometry } = feature;
  if (geometry === null) return;
  const line = linesOf(geometry)[0];
  const at = geometry.type === "Point" ? geometry.coordinates : line?.[line.length >> 1];
  if (at === undefined) return;
  const size = style === "station" ? LARGE_LETTER_M : LETTER_M;
  entities.label(labelOf(feature), at, size, textLayerName(style));
}

type Box = [number, number, number, number];

function boxOf(features: readonly DrawnFeature[]): Box {
  const box: Box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { geometry } of features) {
    if (geometry === null) continue;
    const positions = geometry.type === "Point" ? [geometry.coordinates] : linesOf(geometry).flat();
    for (const [x, y] of positions) {
      box[0] = Math.min(box[0], x!);
      box[1] = Math.min(box[1], y!);
      box[2] = Math.max(box[2], x!);
      box[3] = Math.max(box[3], y!);
    }
  }
  return box.every(Number.isFinite) ? box : [0, 0, 0, 0];
}

/** `$INSUNITS` by metres in a unit: metres, feet, US survey feet; 0 for others. */
function unitCode(metresPerUnit: number): number {
  const codes: readonly (readonly [number, number])[] = [
    [1, 6],
    [0.3048, 2],
    [1200 / 3937, 21],
  ];
  return codes.find(([metres]) => Math.abs(metres / metresPerUnit - 1) < 1e-9)?.[1] ?? 0;
}

function header({ crs, name }: DrawnPlan, box: Box, handleSeed: string): Groups {
  const out = new Groups();
  // The system in one line; readers pass over comments.
  out.put(999, `${CRS_COMMENT} ${crs.definition.replace(/\s+/g, " ")}`);
  out.put(999, `plan of ${dxfText(name)}`);
  out.all(0, "SECTION", 2, "HEADER");
  const variable = (variableName: string, ...pairs: readonly (string | number)[]) =>
    out.put(9, variableName).all(...pairs);
  variable("$ACADVER", 1, "AC1018");
  variable("$DWGCODEPAGE", 3, "ANSI_1252");
  variable("$HANDSEED", 5, handleSeed);
  variable("$INSUNITS", 70, unitCode(crs.metresPerUnit));
  variable("$MEASUREMENT", 70, 1);
  variable("$LUNITS", 70, 2);
  variable("$LUPREC", 70, 3);
  variable("$LTSCALE", 40, 1);
  variable("$EXTMIN", 10, box[0], 20, box[1], 30, 0);
  variable("$EXTMAX", 10, box[2], 20, box[3], 30, 0);
  variable("$PDMODE", 70, POINT_MODE);
  variable("$PDSIZE", 40, POINT_SIZE_M / crs.metresPerUnit);
  out.put(0, "ENDSEC");
  return out;
}
