/** What the passages are told of the site: banks, islands, loops. */
import { AreaIndex } from "../geometry/area-index.ts";
import { areaM2, interiorPoint, vertexAt } from "../geometry/rings.ts";
import type { AreaM, PointM } from "../model/geometry.ts";
import type { MownArea } from "../model/plan.ts";
import type { Site, Thing } from "../model/site.ts";
import { type BankFinder, bankFinder } from "./banks.ts";
import type { Island } from "./beyond.ts";
import type { EdgeRun } from "./edge-kinds.ts";
import type { Ground } from "./ground.ts";
import type { LoopDraft } from "./loop.ts";
import type { Surroundings } from "./passages.ts";

/** Corners of an island that are looked up, at most. */
const CORNERS = 8;

/** @param loops what lies inside the wire, area by area, with the loop that holds it */
export function surroundingsOf(
  site: Site,
  ground: Ground,
  runs: readonly EdgeRun[],
  drafts: readonly LoopDraft[],
  loops: readonly { readonly name: string; readonly inside: AreaM }[],
  mown: readonly MownArea[],
): Surroundings {
  let finder: BankFinder | undefined;
  const insides = new AreaIndex(loops.map(({ inside }) => ({ shell: inside.shell, holes: [] })));
  return {
    bankAt: (at) => {
      finder ??= bankFinder(site, runs);
      return finder(at);
    },
    islands: islandsOf(ground),
    loopAt: ([e, n]) => {
      const i = insides.locate(e, n);
      const loop = drafts.find((draft) => draft.loop.name === loops[i]?.name)?.loop;
      if (!loop) return undefined;
      const areaM2 = mown
        .filter((area) => area.loop === loop.name)
        .reduce((sum, area) => sum + area.areaM2, 0);
      return { name: loop.name, areaM2, wireM: loop.lengthM, pegs: loop.pegs.length };
    },
  };
}

/** Things that lie free in the ground, with some corners of each. */
function islandsOf(ground: Ground): Island[] {
  const holes = ground.wireGround.flatMap((area) =>
    area.holes.map((shell): AreaM => ({ shell, holes: [] })),
  );
  const index = new AreaIndex(holes);
  const isIsland = (thing: Thing): boolean => {
    const [e, n] = interiorPoint(largest(thing.areas));
    return index.locate(e, n) !== -1;
  };
  return [...ground.soft.filter(isIsland), ...ground.freeFirm].map((thing) => ({
    name: thing.name,
    corners: cornersOf(largest(thing.areas)),
  }));
}

function largest(areas: readonly AreaM[]): AreaM {
  return areas.reduce((best, area) => (areaM2(area) > areaM2(best) ? area : best), areas[0]!);
}

function cornersOf({ shell }: AreaM): PointM[] {
  const count = shell.length >> 1;
  const step = Math.max(1, Math.floor(count / CORNERS));
  return Array.from({ length: Math.min(CORNERS, count) }, (_, i) =>
    vertexAt(shell, (i * step) % count),
  );
}
