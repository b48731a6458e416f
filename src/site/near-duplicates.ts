import { boxFinder } from "../geometry/box-finder.ts";
import { intersection } from "../geometry/overlay.ts";
import { boxOf, totalAreaM2, vertexAt } from "../geometry/rings.ts";
import type { SourceRef } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import { counted, listed, type Note, squareMetres } from "./notes.ts";

interface Drawn {
  readonly areas: readonly AreaM[];
  readonly name?: string | undefined;
  /** Whether the name is the feature's own. */
  readonly named?: boolean;
  readonly source: SourceRef;
}

/**
 * One of each set of areas that are nearly the same: of which the shared area is at least `share`
 * of the area of both together (intersection over union). The first stays, or the first that has a
 * name of its own. About n log n.
 *
 * @param sortOf only things of one sort can be the same
 */
export function withoutNearDuplicates<T extends Drawn>(
  drawn: readonly T[],
  sortOf: (one: T) => string,
  share: number,
  note: Note,
): T[] {
  const near = boxFinder(drawn.map((one) => one.areas));
  const sizes = drawn.map((one) => totalAreaM2(one.areas));
  const dropped = new Map<number, { kept: number; share: number }>();
  drawn.forEach((one, i) => {
    if (dropped.has(i)) return;
    for (const j of near(one.areas)) {
      if (j <= i || dropped.has(j) || dropped.has(i)) continue;
      const other = drawn[j]!;
      if (sortOf(one) !== sortOf(other) || !alike(sizes[i]!, sizes[j]!, share)) continue;
      if (!boxesAlike(one.areas, other.areas, share)) continue;
      const sharedM2 = totalAreaM2(intersection(one.areas, other.areas));
      const found = sharedM2 / (sizes[i]! + sizes[j]! - sharedM2);
      if (found < share) continue;
      const keepsOther = one.named === false && other.named === true;
      if (keepsOther) dropped.set(i, { kept: j, share: found });
      else dropped.set(j, { kept: i, share: found });
    }
  });
  const [first] = dropped;
  if (first) {
    const [number, { kept, share: found }] = first;
    const one = drawn[number]!;
    const nameOf = ({ name, source }: T) => source.feature ?? name ?? "";
    const list = [...dropped.keys()].map((k) => nameOf(drawn[k]!));
    note({
      code: "NEAR_DUPLICATES",
      severity: "warning",
      message: `${counted(dropped.size, "feature")} left out, being nearly the same as another of one role: ${listed(list)}. The first, of ${squareMetres(sizes[number]!)}, shares ${(100 * found).toFixed(1)} % with ${nameOf(drawn[kept]!)} of ${squareMetres(sizes[kept]!)}${drawn[kept]!.source.file === one.source.file ? "" : ` in ${drawn[kept]!.source.file}`}, which stays.`,
      remedy: "Remove the copies from the files; or set repair.same_share to 1 if both are meant.",
      atM: vertexAt(one.areas[0]!.shell, 0),
      ...one.source,
    });
  }
  return drawn.filter((_, i) => !dropped.has(i));
}

const alike = (a: number, b: number, share: number) => Math.min(a, b) >= share * Math.max(a, b);

/** Areas of which the shares agree have boxes that agree: a quick look before any overlay. */
function boxesAlike(a: readonly AreaM[], b: readonly AreaM[], share: number): boolean {
  const [p, q] = [a, b].map((areas) => boxOf(...areas.map((area) => area.shell)));
  const width = Math.min(p!.maxE, q!.maxE) - Math.max(p!.minE, q!.minE);
  const height = Math.min(p!.maxN, q!.maxN) - Math.max(p!.minN, q!.minN);
  const least = 0.5 * share;
  return (
    width >= least * Math.max(p!.maxE - p!.minE, q!.maxE - q!.minE) &&
    height >= least * Math.max(p!.maxN - p!.minN, q!.maxN - q!.minN)
  );
}
