/** Ground that is too steep for the machine, shut out before planning. Loaded only where asked for. */
import { areasAbove } from "../geometry/level-areas.ts";
import { grow, shrink } from "../geometry/offset.ts";
import { difference, intersection, union } from "../geometry/overlay.ts";
import { areaM2, interiorPoint, totalAreaM2 } from "../geometry/rings.ts";
import { simplified } from "../geometry/simplified.ts";
import type { Finding } from "../model/finding.ts";
import type { AreaM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { Site, Thing } from "../model/site.ts";
import type { HeightLattice } from "../model/terrain.ts";
import { slopesOf } from "../physics/terrain/slopes.ts";

/** Smaller patches are not shut out: a molehill, a tussock, noise. A guess. */
const LEAST_M2 = 1;
/** Patches nearer to each other than twice this are one, metres. */
const CLOSE_M = 0.5;
/** Outlines are drawn with chords within this, and so much larger, metres. */
const CHORD_M = 0.1;
/** A patch may reach so far over the lawn's edge, metres. */
const OVER_EDGE_M = 1;

/** What ids of zones that were shut out for their slope begin with. */
export const STEEP_ID = "steep";

/** The site with its steep ground as things that the wire shuts out. */
export interface SteepShut {
  readonly site: Site;
  readonly findings: readonly Finding[];
}

/** Takes lawn steeper than the profile's limit out, as zones of role keep-out. */
export function withSteepShut(site: Site, lattice: HeightLattice, profile: Profile): SteepShut {
  const limit = profile.terrain.slopeMaxPercent;
  const { percent } = slopesOf(lattice);
  const lawns = union(site.lawns.map(({ area }) => area));
  const open = difference(
    lawns,
    site.things.flatMap(({ areas }) => areas),
  );
  const steep = areasAbove({ ...lattice, values: percent }, limit);
  const patches = intersection(steep, grow(lawns, OVER_EDGE_M, "round"));
  const zones = drawn(patches).filter(
    (zone) => totalAreaM2(intersection([zone], open)) >= LEAST_M2,
  );
  if (zones.length === 0) return { site, findings: [] };
  const ordered = [...zones].sort((a, b) => areaM2(b) - areaM2(a));
  const things = ordered.map((area, i): Thing => {
    const id = `${STEEP_ID}-${i + 1}`;
    const name = `steep ground ${i + 1}`;
    const source = { feature: name };
    return { id, name, role: "keep-out", areas: [area], contact: "loop", edgeKind: "open", source };
  });
  const lostM2 = totalAreaM2(intersection(zones, open));
  const atM = interiorPoint(ordered[0]!);
  const finding: Finding = {
    code: "STEEP_SHUT_OUT",
    severity: "info",
    message: `${lostM2.toFixed(1)} m² of lawn steeper than the ${limit} % that the machine mows ${zones.length === 1 ? "are" : `in ${zones.length} patches are`} shut out, as asked with steep shut.`,
    remedy: "Mow it by hand, or plan with a machine for such slopes.",
    atM,
    at: site.grid.inverse(atM),
  };
  return { site: { ...site, things: [...site.things, ...things] }, findings: [finding] };
}

/** Patches close together as one, with few vertices, and none of the steep ground left outside. */
function drawn(patches: readonly AreaM[]): AreaM[] {
  const closed = shrink(grow(patches, CLOSE_M, "round"), CLOSE_M, "round");
  const large = closed.filter((area) => areaM2(area) >= LEAST_M2);
  const filled = large.map((area) => ({
    shell: area.shell,
    holes: area.holes.filter((hole) => areaM2({ shell: hole, holes: [] }) >= LEAST_M2),
  }));
  return grow(
    filled.map((area) => simplified(area, CHORD_M)),
    CHORD_M,
    "mitre",
  );
}
