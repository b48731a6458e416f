/** What the plan mows, leaves for the trimmer, and cannot reach. */
import { AreaIndex } from "../geometry/area-index.ts";
import { areasNearBoxes } from "../geometry/near-boxes.ts";
import { grow } from "../geometry/offset.ts";
import { difference, intersection, union } from "../geometry/overlay.ts";
import { areaM2, boxesMeet, boxOf, interiorPoint, totalAreaM2 } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import type { AreaM } from "../model/geometry.ts";
import type { CutOffArea, HandTrim, MownArea } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";

/** Cut-off pieces smaller than this count as hand-trim, m². */
const LEAST_CUT_OFF_M2 = 0.5;

/** Ground that no machine mows, and why, in plain words. */
export interface Unreached {
  readonly areas: readonly AreaM[];
  readonly reason: string;
}

export interface Leftover {
  readonly mown: readonly MownArea[];
  readonly cutOff: readonly CutOffArea[];
  readonly handTrim: HandTrim;
}

/**
 * @param ground all that could be mown: lawn less everything that is not lawn
 * @param loops what lies inside each loop's wire
 * @param unreached ground that no loop holds and why; what lies in several counts for the first
 */
export function leftovers(
  ground: readonly AreaM[],
  loops: readonly { name: string; inside: AreaM }[],
  unreached: readonly Unreached[],
  profile: Profile,
): Leftover {
  const past = profile.mowing.pastWireM;
  const insides = loops.map((loop) => loop.inside);
  const reach = past > 0 ? grow(insides, past, "round") : insides;
  // Where blades reach past the wires of two loops into one strip, it is the first loop's.
  const mown =
    reach.length < insides.length
      ? mownByEach(loops, ground, past)
      : shareOut(soundAreas(intersection(reach, ground)), loops);
  const rest = difference(
    ground,
    mown.flatMap((m) => m.areas),
  );
  const cutOff: CutOffArea[] = [];
  let trim = rest;
  for (const { areas, reason } of unreached) {
    const pieces = soundAreas(intersection(trim, areas));
    const found = pieces.filter((area) => areaM2(area) >= LEAST_CUT_OFF_M2);
    for (const area of found) cutOff.push({ area, areaM2: areaM2(area), reason });
    if (found.length === 0) continue;
    // Less the areas themselves, not the pieces: edges that nearly coincide leave hairs.
    const left = difference(trim, areas);
    const crumbs = pieces.filter((area) => !found.includes(area));
    trim = crumbs.length > 0 ? union([...left, ...crumbs]) : left;
  }
  const strips = soundAreas(trim);
  return { mown, cutOff, handTrim: { areas: strips, areaM2: totalAreaM2(strips) } };
}

/** What each loop mows of ground that its neighbours reach as well. */
function mownByEach(
  loops: readonly { name: string; inside: AreaM }[],
  ground: readonly AreaM[],
  past: number,
): MownArea[] {
  const insides = loops.map((loop) => loop.inside);
  const boxes = insides.map((inside) => {
    const { minE, minN, maxE, maxN } = boxOf(inside.shell);
    return { minE: minE - past, minN: minN - past, maxE: maxE + past, maxN: maxN + past };
  });
  const reaches = insides.map((inside) => grow([inside], past, "round"));
  const near = areasNearBoxes(ground, boxes);
  return loops.map(({ name }, i) => {
    const others = insides.flatMap((inside, k) => {
      if (k === i || !boxesMeet(boxes[k]!, boxes[i]!)) return [];
      return k < i ? reaches[k]! : [inside];
    });
    // What lies inside its wire is its own all the same.
    const reach = union([...difference(reaches[i]!, others), insides[i]!]);
    const areas = soundAreas(intersection(reach, near[i]!));
    return { loop: name, part: i + 1, areas, areaM2: totalAreaM2(areas) };
  });
}

/** Gives each piece of mown ground to the loop that holds it, or that is nearest to it. */
function shareOut(
  pieces: readonly AreaM[],
  loops: readonly { name: string; inside: AreaM }[],
): MownArea[] {
  const index = new AreaIndex(loops.map((loop) => loop.inside));
  const wires = new SegmentIndex(loops.map((loop) => loop.inside.shell));
  const areas: AreaM[][] = loops.map(() => []);
  for (const piece of pieces) {
    const [e, n] = interiorPoint(piece);
    const held = index.locate(e, n);
    const near = held === -1 ? wires.nearest(e, n, Infinity) : undefined;
    areas[near ? wires.ringOf[near.segment]! : held]!.push(piece);
  }
  return loops.map(({ name }, i) => ({
    loop: name,
    part: i + 1,
    areas: areas[i]!,
    areaM2: totalAreaM2(areas[i]!),
  }));
}
