/** Islands that became part of the edge. */
import { AreaIndex } from "../geometry/area-index.ts";
import { interiorPoint } from "../geometry/rings.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Thing } from "../model/site.ts";
import type { Ground } from "./ground.ts";

/** Soft things wholly on the lawn that no exclusion loop shuts out: the wire passes behind them. */
export function islandsInTheEdge(ground: Ground, insides: readonly AreaM[]): Thing[] {
  const inside = new AreaIndex(insides);
  const rings = insides.flatMap((area) => area.holes.map((shell) => ({ shell, holes: [] })));
  const loops = new AreaIndex(rings);
  const outer = new AreaIndex(insides.map(({ shell }) => ({ shell, holes: [] })));
  const lawn = new AreaIndex(ground.lawn);
  return ground.soft.filter((thing) => {
    // A path across a lawn parts it; nobody would look for a loop round it.
    if (thing.role === "paving") return false;
    const [e, n] = interiorPoint(thing.areas[0]!);
    if (loops.locate(e, n) !== -1 || inside.locate(e, n) !== -1 || outer.locate(e, n) !== -1) {
      return false;
    }
    return thing.areas.every((area) => {
      for (let i = 0; i < area.shell.length; i += 2) {
        if (lawn.locate(area.shell[i]!, area.shell[i + 1]!) === -1) return false;
      }
      return true;
    });
  });
}
