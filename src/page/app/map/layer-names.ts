/** What can be switched on the map, from the ground up. */
import type { ShapeKind } from "../../model/page-model.ts";

export const LAYER_NAMES = [
  "picture",
  "lawn",
  "areas",
  "things",
  "edges",
  "passages",
  "wire",
  "pairs",
  "guides",
  "points",
  "pegs",
  "stations",
  "findings",
  "names",
] as const;
export type LayerName = (typeof LAYER_NAMES)[number];

const LAYER_OF: Readonly<Record<ShapeKind, LayerName>> = {
  lawn: "lawn",
  "mown-area": "areas",
  "hand-trim": "areas",
  "cut-off-area": "areas",
  "steep-area": "areas",
  "exclusion-loop": "areas",
  thing: "things",
  "run-ground": "things",
  "edge-line": "edges",
  "edge-fall": "edges",
  passage: "passages",
  "boundary-wire": "wire",
  "paired-run": "pairs",
  "guide-wire": "guides",
  outlet: "points",
  control: "points",
  joint: "points",
  "station-option": "stations",
  station: "stations",
};

export const layerOf = (kind: ShapeKind): LayerName => LAYER_OF[kind];

/** What is shown at first: notes of the planner are many, and listed. */
export const FIRST_LAYERS = Object.fromEntries(LAYER_NAMES.map((name) => [name, true])) as Readonly<
  Record<LayerName, boolean>
>;
