/**
 * Union, difference and intersection of areas (metres).
 *
 * Input areas may overlap each other; shells are anticlockwise and holes clockwise (non-zero rule).
 * Results are disjoint valid areas to the engine's grid (0.01 mm). Cost n log n in practice.
 */
import type { AreaM, RingM } from "../model/geometry.ts";
import { areasByWinding } from "./areas-by-winding.ts";
import { ENGINE_DECIMALS, engine, takeRings, toPaths } from "./engine.ts";
import { boxesMeet, boxOf } from "./rings.ts";

export type Fill = "non-zero" | "even-odd";

function ringsOf(areas: readonly AreaM[]): RingM[] {
  const rings: RingM[] = [];
  for (const area of areas) {
    rings.push(area.shell, ...area.holes);
  }
  return rings;
}

type Operation = "Union" | "Difference" | "Intersection";

function overlay(
  operation: Operation,
  subject: readonly RingM[],
  clip: readonly RingM[],
  fill: Fill = "non-zero",
): AreaM[] {
  const module = engine();
  const subjects = toPaths(subject);
  const clips = toPaths(clip);
  const rule = fill === "even-odd" ? module.FillRule.EvenOdd : module.FillRule.NonZero;
  // The engine's own tree of rings costs holes × vertices, and may hang a hole that touches its shell
  // in two places beside the shell; its winding is right all the same.
  const paths = module.BooleanOpD(
    module.ClipType[operation],
    rule,
    subjects,
    clips,
    ENGINE_DECIMALS,
  );
  subjects.delete();
  clips.delete();
  return areasByWinding(takeRings(paths));
}

/** The areas merged where they overlap or touch along an edge. */
export function union(areas: readonly AreaM[]): AreaM[] {
  if (areas.length === 0) return [];
  return overlay("Union", ringsOf(areas), []);
}

/** `subject` less `clip`. */
export function difference(subject: readonly AreaM[], clip: readonly AreaM[]): AreaM[] {
  if (subject.length === 0) return [];
  if (clip.length === 0) return union(subject);
  return overlay("Difference", ringsOf(subject), ringsOf(clip));
}

/** What both have. */
export function intersection(a: readonly AreaM[], b: readonly AreaM[]): AreaM[] {
  const boxes = b.map(({ shell }) => boxOf(shell));
  // A ring winds round nothing that lies outside its box.
  const near = ringsOf(a).filter((ring) => {
    const own = boxOf(ring);
    return boxes.some((box) => boxesMeet(own, box));
  });
  if (near.length === 0) return [];
  return overlay("Intersection", near, ringsOf(b));
}

/**
 * Valid areas from rings of any winding that may cross themselves and each other.
 *
 * @param fill `even-odd`: what an odd number of rings encloses (a bow-tie keeps both wings);
 *   `non-zero`: what any ring winds round
 */
export function areasFromRings(rings: readonly RingM[], fill: Fill): AreaM[] {
  if (rings.length === 0) return [];
  return overlay("Union", rings, [], fill);
}
