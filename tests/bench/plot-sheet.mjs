// Many seeded plots in one collection: gardens in rows, each with its value of `parcel`. Invented.
// The same numbers always give the same bytes.
import { organicEstate } from "./organic-estate.mjs";

/** Distance of plots from each other, degrees: farther than any of them is wide. */
const STEP_DEG = 0.004;

/**
 * @param {{ plots: number, seed: number, vertices?: number, islands?: number, perRow?: number }} size
 * @returns {{ collection: object, single: (number: number) => object }} all plots, and a plot alone
 */
export function plotSheet({ plots, seed, vertices = 120, islands = 3, perRow = 100 }) {
  const of = (number) => {
    const { geojson } = organicEstate({ vertices, islands, seed: seed + number });
    const shift = [(number % perRow) * STEP_DEG, Math.floor(number / perRow) * STEP_DEG];
    return geojson.features.map((feature, i) => ({
      ...feature,
      id: `p${number}-${i}`,
      properties: { ...feature.properties, parcel: `P${number}` },
      geometry: moved(feature.geometry, shift),
    }));
  };
  const all = Array.from({ length: plots }, (_, i) => of(i + 1));
  return {
    collection: { type: "FeatureCollection", features: all.flat() },
    single: (number) => ({ type: "FeatureCollection", features: all[number - 1] }),
  };
}

function moved(geometry, [east, north]) {
  const walk = (nested) =>
    typeof nested[0] === "number"
      ? [round(nested[0] + east), round(nested[1] + north)]
      : nested.map(walk);
  return { ...geometry, coordinates: walk(geometry.coordinates) };
}

const round = (value) => Number(value.toFixed(9));
