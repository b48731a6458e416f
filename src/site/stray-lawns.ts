import { boxFinder } from "../geometry/box-finder.ts";
import { areaM2, boxOf, vertexAt } from "../geometry/rings.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Lawn } from "../model/site.ts";
import { counted, listed, type Note, squareMetres } from "./notes.ts";

/** Warns of lawns farther than `farM` from every other: a stray shape, or another site. */
export function reportStrayLawns(lawns: readonly Lawn[], farM: number, note: Note): void {
  if (lawns.length < 2) return;
  const near = boxFinder(lawns.map((lawn) => [lawn.area]));
  const alone = lawns.filter((lawn) => near([wider(lawn.area, farM)]).length === 1);
  // Where each is alone, the largest is the site.
  const largest = lawns.reduce((a, b) => (areaM2(b.area) > areaM2(a.area) ? b : a));
  const stray = alone.length === lawns.length ? alone.filter((lawn) => lawn !== largest) : alone;
  const [first] = stray;
  if (!first) return;
  const away = Math.min(
    ...lawns.filter((lawn) => lawn !== first).map((lawn) => gapM(first.area, lawn.area)),
  );
  note({
    code: "LAWNS_FAR_AWAY",
    severity: "warning",
    message: `${counted(stray.length, "lawn")} more than ${farM} m from every other: ${listed(stray.map((one) => one.name))}. The first, of ${squareMetres(areaM2(first.area))}, lies ${away.toFixed(0)} m away. It is planned all the same.`,
    remedy: "Take out what does not belong to the site, or choose lawns in the site file.",
    atM: vertexAt(first.area.shell, 0),
    ...first.source,
  });
}

/** The box of an area, wider by a reach on all sides. */
function wider({ shell }: AreaM, reachM: number): AreaM {
  const { minE, minN, maxE, maxN } = boxOf(shell);
  const [w, s, e, n] = [minE - reachM, minN - reachM, maxE + reachM, maxN + reachM];
  return { shell: Float64Array.of(w, s, e, s, e, n, w, n), holes: [] };
}

/** Distance between two boxes. */
function gapM(a: AreaM, b: AreaM): number {
  const [p, q] = [boxOf(a.shell), boxOf(b.shell)];
  const east = Math.max(0, p.minE - q.maxE, q.minE - p.maxE);
  const north = Math.max(0, p.minN - q.maxN, q.minN - p.maxN);
  return Math.hypot(east, north);
}
