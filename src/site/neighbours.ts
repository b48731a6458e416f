import Flatbush from "flatbush";
import { EdgeIndex } from "../geometry/edge-index.ts";
import { boxOf, vertexAt } from "../geometry/rings.ts";
import type { AreaM } from "../model/geometry.ts";
import { reachOf } from "./make-things.ts";
import { flatOf } from "./parts.ts";
import type { RawShape } from "./sort-features.ts";

/** Things farther than this from every lawn do not matter to it, metres. */
export const NEIGHBOUR_M = 1;

/** Says of shapes and things whether they are near enough to a lawn to matter. */
export class Neighbourhood {
  readonly edges: EdgeIndex;
  readonly #lawns: readonly AreaM[];
  readonly #shells: EdgeIndex;
  readonly #corners: Flatbush | undefined;

  /** @param lawns areas that do not overlap */
  constructor(lawns: readonly AreaM[]) {
    this.#lawns = lawns;
    this.edges = new EdgeIndex(lawns.map((area) => [area]));
    this.#shells = new EdgeIndex(lawns.map((area) => [{ shell: area.shell, holes: [] }]));
    this.#corners = lawns.length > 0 ? new Flatbush(lawns.length) : undefined;
    for (const { shell } of lawns) this.#corners!.add(shell[0]!, shell[1]!);
    this.#corners?.finish();
  }

  /** A shape as read: near an edge, in a lawn or in a hole of one, or round a lawn. */
  holdsShape(shape: RawShape): boolean {
    const reachM = NEIGHBOUR_M + reachOf(shape);
    const near = (flat: Float64Array, closed: boolean): boolean =>
      flat.length >= 2 &&
      (this.edges.reaches(flat, closed, reachM) || this.#shells.contains(flat[0]!, flat[1]!));
    return (
      shape.polygons.some(([shell]) => {
        if (!shell || shell.length === 0) return false;
        const flat = flatOf(shell);
        return near(flat, true) || this.#anyLawnIn(flat);
      }) ||
      shape.lines.some((line) => near(flatOf(line), false)) ||
      shape.points.some((point) => near(Float64Array.of(point[0]!, point[1]!), false))
    );
  }

  /** A finished thing: near an edge or in a lawn; deep in a hole is not near. */
  holdsThing(areas: readonly AreaM[]): boolean {
    return areas.some(
      (area) =>
        [area.shell, ...area.holes].some((ring) => this.edges.reaches(ring, true, NEIGHBOUR_M)) ||
        this.edges.contains(area.shell[0]!, area.shell[1]!),
    );
  }

  #anyLawnIn(ring: Float64Array): boolean {
    const box = boxOf(ring);
    const corners = this.#corners?.search(box.minE, box.minN, box.maxE, box.maxN) ?? [];
    if (corners.length === 0) return false;
    const self = new EdgeIndex([[{ shell: ring, holes: [] }]]);
    return corners.some((l) => self.contains(...vertexAt(this.#lawns[l]!.shell, 0)));
  }
}
