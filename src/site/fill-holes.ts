import { boxFinder } from "../geometry/box-finder.ts";
import { ringHolds } from "../geometry/containment.ts";
import { grow } from "../geometry/offset.ts";
import { difference, intersection, union } from "../geometry/overlay.ts";
import { anticlockwise, areaM2, totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { NO_AREA_M2, soundAreas } from "../geometry/sound-areas.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Role } from "../model/roles.ts";
import type { Lawn } from "../model/site.ts";
import type { NewThing } from "./make-things.ts";
import { counted, listed, type Note } from "./notes.ts";

/** A hole is filled by what is drawn in it if that leaves at most this share of it open. */
const OPEN_SHARE = 0.05;

/** Gaps up to this between a hole and what fills it are drawing errors, metres. */
const FIT_M = 0.05;

/** Roles of areas that can be what a hole in a lawn was left for. */
const FILLING: ReadonlySet<Role> = new Set<Role>([
  "bed",
  "water",
  "gravel",
  "paving",
  "building",
  "firm",
  "tree",
  "keep-out",
]);

/**
 * Holes of lawns become things of their own: what is drawn in them where that fills them, else
 * beds. Lawns in a hole (a courtyard) are cut out of its bed, and only such holes stay in the lawn.
 *
 * @returns lawns whose outlines have no other holes; the things, those that fill a hole widened to
 *   its rim, and the beds
 */
export function fillHoles(
  lawns: readonly Lawn[],
  things: readonly NewThing[],
  note: Note,
): { lawns: Lawn[]; things: NewThing[] } {
  const filled = [...things];
  const thingsAt = boxFinder(things.map((thing) => (FILLING.has(thing.role) ? thing.areas : [])));
  const lawnsAt = boxFinder(lawns.map((lawn) => [lawn.area]));
  const beds: NewThing[] = [];
  const fitted: string[] = [];
  const result = lawns.map((lawn, own) => {
    const kept = lawn.area.holes.filter((ring, h) => {
      const hole: AreaM = { shell: anticlockwise(ring), holes: [] };
      const inner = lawnsAt([hole]).filter(
        (l) => l !== own && ringHolds(hole.shell, lawns[l]!.area.shell),
      );
      const courts = inner.map((l) => lawns[l]!.area);
      const fillers = thingsAt([hole]);
      const drawn = [...courts, ...fillers.flatMap((t) => filled[t]!.areas)];
      const open = drawn.length === 0 ? [hole] : difference([hole], drawn);
      const left = soundAreas(open);
      const openM2 = drawn.length === 0 ? areaM2(hole) : openAfterFit(hole, drawn);
      if (fillers.length > 0 && openM2 <= OPEN_SHARE * areaM2(hole)) {
        for (const sliver of left) widen(filled, fillers, sliver);
        fitted.push(`${lawn.name} hole ${h + 1}`);
      } else if (left.length > 0) {
        beds.push({
          role: "bed",
          name: `${lawn.name} hole ${h + 1}`,
          areas: left,
          contact: "loop",
          edgeKind: "open",
          isHole: true,
          source: lawn.source,
        });
      }
      return courts.length > 0;
    });
    return { ...lawn, area: { shell: lawn.area.shell, holes: kept } };
  });
  report(beds, fitted, note);
  return { lawns: result, things: [...filled, ...beds] };
}

/** What stays open of a hole when what is drawn in it is taken `FIT_M` larger, m². */
function openAfterFit(hole: AreaM, drawn: readonly AreaM[]): number {
  return totalAreaM2(difference([hole], grow(drawn, FIT_M, "mitre")));
}

/** Gives a sliver of a hole to the thing that has the longest front to it. */
function widen(things: NewThing[], candidates: readonly number[], sliver: AreaM): void {
  const around = grow([sliver], FIT_M, "mitre");
  let best = candidates[0]!;
  let bestM2 = -1;
  for (const candidate of candidates) {
    const sharedM2 = totalAreaM2(intersection(around, things[candidate]!.areas));
    if (sharedM2 > bestM2) {
      best = candidate;
      bestM2 = sharedM2;
    }
  }
  const thing = things[best]!;
  // Grown by a twentieth of a millimetre, so that no hairline stays between the two.
  const areas = soundAreas(union([...thing.areas, ...grow([sliver], 0.00005, "mitre")]));
  things[best] = { ...thing, areas };
}

function report(beds: readonly NewThing[], fitted: readonly string[], note: Note): void {
  if (beds.length === 0 && fitted.length === 0) return;
  const parts: string[] = [];
  if (beds.length > 0) {
    const m2 = beds.reduce((sum, bed) => sum + totalAreaM2(bed.areas), 0);
    parts.push(
      `${counted(beds.length, "hole")} in lawns taken as beds (${m2 < NO_AREA_M2 ? 0 : m2.toFixed(1)} m² in all): ${listed(beds.map((bed) => bed.name!))}.`,
    );
  }
  if (fitted.length > 0) {
    parts.push(
      `${counted(fitted.length, "hole")} filled by what is drawn in ${fitted.length === 1 ? "it" : "them"}: ${listed(fitted)}.`,
    );
  }
  const first = beds[0];
  note({
    code: "HOLES_TAKEN_AS_BEDS",
    severity: "info",
    message: parts.join(" "),
    remedy: "Draw the thing itself with a role where a hole is something else than a bed.",
    ...(first && { atM: vertexAt(first.areas[0]!.shell, 0), ...first.source }),
  });
}
