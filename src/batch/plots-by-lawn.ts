/**
 * Every lawn a plot of its own, with what lies at it. Distances are measured in one grid over all
 * inputs, which over a whole country stretches them by less than a hundredth.
 */
import { vertexAt } from "../geometry/rings.ts";
import type { RawLayer } from "../model/features.ts";
import { done, type Finding, failed, type Outcome, type SourceRef } from "../model/finding.ts";
import type { Role } from "../model/roles.ts";
import { REPAIR_TOLERANCES } from "../model/site-rules.ts";
import { rulingsOf, type SiteInput } from "../site/build-site.ts";
import { findLawns } from "../site/find-lawns.ts";
import type { Repaired } from "../site/lawn-pieces.ts";
import { reachOf } from "../site/make-things.ts";
import type { Note } from "../site/notes.ts";
import { flatOf } from "../site/parts.ts";
import { type RawShape, sortFeatures } from "../site/sort-features.ts";
import { LawnIndex } from "./lawn-index.ts";
import { type Membership, type Plots, plotsOf } from "./plot.ts";

/** How far from a lawn things still belong to it, metres. The planner asks for one. */
export const THING_REACH_M = 2;

/** How far from the nearest lawn a station or an outlet may stand and belong to it, metres. */
export const STATION_REACH_M = 25;

/** Stand for one lawn alone: the nearest. */
const OF_ONE_LAWN: ReadonlySet<Role | undefined> = new Set(["station", "outlet", "control"]);

/**
 * Plots by lawn: each feature that is lawn, with the features that touch it, lie in it or round it,
 * or come within `THING_REACH_M` of it. A thing between two lawns belongs to both, a station or an
 * outlet to the nearest lawn alone. Other lawns are no part of a plot. Needs `loadEngine()` awaited.
 *
 * @param layers in source coordinates
 * @param input the same layers in the site grid, with the rulings
 * @returns plots in input order; `NO_LAWN` where nothing is lawn. What lies at no lawn is a finding
 */
export function plotsByLawn(layers: readonly RawLayer[], input: SiteInput): Outcome<Plots> {
  const silent: Note = () => {};
  const tolerances = input.tolerances ?? REPAIR_TOLERANCES;
  const shapes = sortFeatures(input.layers, rulingsOf(input), silent, tolerances);
  const grounds = shapes.filter((one) => one.assigned.by !== "ground");
  const { pieces } = findLawns(grounds, silent, tolerances);
  const places = new Places(layers);
  const lawns = lawnsOf(pieces, places);
  if (lawns.length === 0) return failed(nothingIsLawn(layers));
  const lawnPlaces = new Set(lawns.flatMap((lawn) => [...lawn.features]));
  const isLawn = new Set(pieces.map((piece) => piece.shape));
  const index = new LawnIndex(lawns.map((lawn) => lawn.pieces.flatMap((one) => one.areas)));
  let left = 0;
  for (const shape of shapes) {
    const own = places.of(shape);
    if (isLawn.has(shape) || shape.assigned.role === "lawn") continue;
    if (own.every((place) => lawnPlaces.has(place))) continue;
    const at = OF_ONE_LAWN.has(shape.assigned.role)
      ? nearestLawn(shape, index)
      : lawnsAt(shape, index);
    if (at.size === 0) left++;
    for (const k of at) for (const place of own) lawns[k]!.features.add(place);
  }
  const members = lawns.map(
    ({ name, features }): Membership => ({ name, features: [...features] }),
  );
  return done(plotsOf(layers, members), left === 0 ? [] : [atNoLawn(left)]);
}

/** A lawn in the making: the features of its plot, by place. */
interface LawnPlot {
  readonly name: string;
  readonly pieces: Repaired[];
  readonly features: Set<number>;
}

/** Where features stand in the list of all; those of one number (members of a collection) together. */
class Places {
  readonly #byName = new Map<string, number[]>();

  constructor(layers: readonly RawLayer[]) {
    let place = 0;
    for (const { file, layer, features } of layers) {
      for (const { number } of features) {
        const key = keyOf({ file, layer }, `#${number}`);
        const known = this.#byName.get(key);
        if (known === undefined) this.#byName.set(key, [place]);
        else known.push(place);
        place++;
      }
    }
  }

  of({ source, ids }: RawShape): readonly number[] {
    return this.#byName.get(keyOf(source, ids[0]!)) ?? [];
  }
}

const keyOf = ({ file, layer }: SourceRef, number: string) => `${file}\n${layer}\n${number}`;

/** One for each feature that is lawn, in input order. */
function lawnsOf(pieces: readonly Repaired[], places: Places): LawnPlot[] {
  const lawns = new Map<number, LawnPlot>();
  for (const piece of pieces) {
    const own = places.of(piece.shape);
    const first = own[0];
    if (first === undefined) continue;
    const known = lawns.get(first);
    if (known) known.pieces.push(piece);
    else lawns.set(first, { name: nameOf(piece), pieces: [piece], features: new Set(own) });
  }
  return [...lawns].sort(([a], [b]) => a - b).map(([, lawn]) => lawn);
}

/** Its own name, else its id, else its number in the file. */
function nameOf({ named, name, shape }: Repaired): string {
  return named ? name : (shape.ids[1] ?? shape.ids[0]!);
}

/** Numbers of the lawns that a thing lies at: at their edge, in them, or round them. */
function lawnsAt(shape: RawShape, index: LawnIndex): Set<number> {
  const at = new Set<number>();
  const reachM = THING_REACH_M + reachOf(shape);
  const add = (flat: Float64Array, closed: boolean) => {
    if (flat.length === 0) return;
    for (const k of index.holding(vertexAt(flat, 0))) at.add(k);
    for (const k of index.near(flat, closed, reachM)) at.add(k);
  };
  for (const rings of shape.polygons) for (const ring of rings) add(flatOf(ring), true);
  for (const line of shape.lines) add(flatOf(line), false);
  for (const [e, n] of shape.points) add(Float64Array.of(e!, n!), false);
  for (const [shell] of shape.polygons) {
    if (shell?.length) for (const k of index.inside(flatOf(shell))) at.add(k);
  }
  return at;
}

function nearestLawn(shape: RawShape, index: LawnIndex): Set<number> {
  const [e, n] = shape.points[0] ?? shape.lines[0]?.[0] ?? shape.polygons[0]![0]![0]!;
  const nearest = index.nearest([e!, n!], STATION_REACH_M);
  return new Set(nearest === undefined ? [] : [nearest]);
}

function nothingIsLawn(layers: readonly RawLayer[]) {
  return {
    code: "NO_LAWN",
    kind: "input" as const,
    ...(layers[0] && { file: layers[0].file }),
    message: "Nothing in the inputs is lawn, so there are no plots.",
    remedy: "Say what is lawn with --role LAYER=lawn; `pegline inspect` lists the layers.",
  };
}

function atNoLawn(count: number): Finding {
  return {
    code: "PLOT_THINGS_LEFT",
    severity: "info",
    message: `${count} things lie at no lawn (within ${THING_REACH_M} m; stations and outlets ${STATION_REACH_M} m) and are in no plot.`,
    remedy: "Nothing to do, unless lawns are missing.",
  };
}
