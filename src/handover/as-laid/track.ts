/** What was measured of wire in the ground: points at pegs, lines along the wire. */
import { jointOf, statedOfLayers } from "../../check/stated/from-layers.ts";
import { linesOf, pointsOf } from "../../check/stated/shapes.ts";
import type { GridLayer, RawFeature } from "../../model/features.ts";
import type { LineM, PointM } from "../../model/geometry.ts";

/** A point taken at a peg. */
export interface TrackPoint {
  readonly atM: PointM;
  /** What it is called; a peg's number where the surveyor wrote one. */
  readonly name: string | undefined;
  /** Joint that was found there, where the surveyor wrote one. */
  readonly joint?: string | undefined;
}

export interface Track {
  readonly points: readonly TrackPoint[];
  readonly lines: readonly LineM[];
}

/** Attributes that may hold a peg's number, first come first. */
const NAMES = ["number", "peg", "name", "id", "code", "label"];

/**
 * @param layers of the track's files, in the grid of the plan
 */
export function trackOf(layers: readonly GridLayer[]): Track {
  const features = layers.flatMap((layer) => layer.features);
  if (features.some((one) => one.properties.kind === "boundary-wire")) return edited(layers);
  const points = features.flatMap((one): TrackPoint[] =>
    pointsOf(one).map((atM) => ({
      atM,
      name: nameOf(one),
      joint: jointOf(one),
    })),
  );
  return { points, lines: features.flatMap(linesOf) };
}

/** A plan that was changed in a map tool: its wire, and its pegs by number. */
function edited(layers: readonly GridLayer[]): Track {
  const stated = statedOfLayers(layers);
  if (!stated.ok) return { points: [], lines: [] };
  const { loops } = stated.value;
  return {
    points: loops.flatMap(({ pegs }) =>
      (pegs ?? []).map(({ atM, number, joint }) => ({ atM, name: number, joint })),
    ),
    lines: loops.map(({ wire }) => Float64Array.from([...wire, wire[0]!, wire[1]!])),
  };
}

function nameOf({ properties }: RawFeature): string | undefined {
  for (const key of NAMES) {
    const found = Object.keys(properties).find((one) => one.toLowerCase() === key);
    const value = found === undefined ? undefined : properties[found];
    if (value !== undefined && value !== null && value !== "") return String(value);
  }
  return undefined;
}
