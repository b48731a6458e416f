/** What casts shade on a site: buildings, walls, hedges, trees, and all else with a height. */
import { boxOf, totalAreaM2 } from "../../geometry/rings.ts";
import type { PointM } from "../../model/geometry.ts";
import type { Site, Thing } from "../../model/site.ts";

/** Upright from the ground to its top: the outline of a building, the line of a hedge. */
export interface Upright {
  readonly kind: "upright";
  /** e0, n0, e1, n1, …; an outline ends where it began. */
  readonly line: Float64Array;
  /** Height of its top over the ground under it. */
  readonly topM: number;
  /** Height of that ground; undefined where it is not known. */
  readonly groundM: number | undefined;
}

/** A tree's crown: a drum over the ground. */
export interface Crown {
  readonly kind: "crown";
  readonly middle: PointM;
  readonly radiusM: number;
  /** Over the ground under it. */
  readonly bottomM: number;
  readonly topM: number;
  readonly groundM: number | undefined;
}

export type Caster = Upright | Crown;

/** Casters, and how many of each sort had their height assumed. */
export interface Casters {
  readonly list: readonly Caster[];
  readonly assumed: ReadonlyMap<string, number>;
}

/** Heights where nothing says how high: typical, no source. Metres. */
export const USUAL_HEIGHT_M = { building: 6, wall: 1.8, hedge: 1.8, tree: 8 } as const;
/** A crown is half as wide as the tree is high, and begins at this share of its height: typical. */
export const CROWN_WIDTH_SHARE = 0.5;
export const CROWN_FROM_SHARE = 0.25;

type HeightAt = (eastM: number, northM: number) => number;

/** @param heightAt height of the ground, NaN where not known; left out where no heights are given */
export function castersOf(site: Site, heightAt: HeightAt | undefined): Casters {
  const assumed = new Map<string, number>();
  const list: Caster[] = [];
  const heightOf = (sort: keyof typeof USUAL_HEIGHT_M | undefined, heightM: number | undefined) => {
    if (heightM !== undefined) return heightM;
    if (sort === undefined) return 0;
    assumed.set(sort, (assumed.get(sort) ?? 0) + 1);
    return USUAL_HEIGHT_M[sort];
  };
  const upright = (line: Float64Array, heightM: number) => {
    list.push({ kind: "upright", line, topM: heightM, groundM: groundUnder(line, heightAt) });
  };
  for (const thing of [...site.things, ...(site.around ?? [])]) {
    const sort = sortOf(thing);
    const heightM = heightOf(sort, thing.heightM);
    if (heightM <= 0) continue;
    if (thing.role === "tree") list.push(crownOf(thing, heightM, heightAt));
    else {
      for (const area of thing.areas) {
        for (const ring of [area.shell, ...area.holes]) {
          upright(Float64Array.from([...ring, ring[0]!, ring[1]!]), heightM);
        }
      }
    }
  }
  for (const { kind, line, heightM: stated } of site.edgeLines) {
    const sort = kind === "wall" || kind === "hedge" ? kind : undefined;
    const heightM = heightOf(sort, stated);
    if (heightM > 0) upright(line, heightM);
  }
  return { list, assumed };
}

/** Things whose usual height is known; others cast shade only where a height is stated. */
function sortOf({ role, edgeKind }: Thing): keyof typeof USUAL_HEIGHT_M | undefined {
  if (role === "building" || role === "tree") return role;
  return edgeKind === "hedge" ? edgeKind : undefined;
}

function crownOf(thing: Thing, heightM: number, heightAt: HeightAt | undefined): Crown {
  const box = boxOf(...thing.areas.map(({ shell }) => shell));
  const middle: PointM = [(box.minE + box.maxE) / 2, (box.minN + box.maxN) / 2];
  const drawnM = 2 * Math.sqrt(totalAreaM2(thing.areas) / Math.PI);
  const widthM = thing.crownM ?? Math.max(drawnM, CROWN_WIDTH_SHARE * heightM);
  return {
    kind: "crown",
    middle,
    radiusM: widthM / 2,
    bottomM: CROWN_FROM_SHARE * heightM,
    topM: heightM,
    groundM: groundUnder(Float64Array.from(middle), heightAt),
  };
}

/** Mean height of the ground under a line's vertices; undefined where none is known. */
function groundUnder(line: Float64Array, heightAt: HeightAt | undefined): number | undefined {
  if (!heightAt) return undefined;
  let [sum, known] = [0, 0];
  for (let i = 0; i < line.length; i += 2) {
    const heightM = heightAt(line[i]!, line[i + 1]!);
    if (Number.isNaN(heightM)) continue;
    sum += heightM;
    known++;
  }
  return known > 0 ? sum / known : undefined;
}
