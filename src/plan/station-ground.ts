/** What the choice of the station's place knows of the site beyond its own loop of wire. */
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { AreaM, LineM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { OwnEdges, Site, Thing } from "../model/site.ts";
import type { PlaceKnowledge } from "../model/station.ts";
import { LeadRoutes } from "./lead-route.ts";
import { type Narrowings, narrowWays } from "./passages.ts";

export interface StationGround {
  /** Middles of passages. */
  readonly passages: SegmentIndex;
  readonly water: SegmentIndex;
  /** Edges where the public comes by. */
  readonly publicEdges: SegmentIndex;
  /** Undefined where no outlet is given. */
  readonly leads: LeadRoutes | undefined;
  readonly known: PlaceKnowledge;
}

const none = () => new SegmentIndex([], false);

/** Where nothing is known but the wire. */
export const NOTHING_KNOWN: StationGround = {
  passages: none(),
  water: none(),
  publicEdges: none(),
  leads: undefined,
  known: {},
};

/** @param parts what wires will enclose */
export function stationGround(
  site: Site,
  parts: readonly AreaM[],
  narrowings: Narrowings | undefined,
  known: PlaceKnowledge,
  profile: Profile,
): StationGround {
  const things = [...site.things, ...(site.around ?? [])];
  const lawns = site.lawns.flatMap((lawn): readonly OwnEdges[] => lawn.ownEdges ?? [lawn]);
  const lawnsWith = (takes: (lawn: OwnEdges) => boolean): LineM[] =>
    lawns.filter(takes).flatMap(({ area }) => [closed(area.shell)]);
  return {
    passages: new SegmentIndex(narrowings ? narrowWays(narrowings, profile) : [], false),
    water: new SegmentIndex(
      [
        ...outlines(
          things.filter(({ role, edgeKind }) => role === "water" || edgeKind === "water"),
        ),
        ...site.edgeLines.filter(({ kind }) => kind === "water").map(({ line }) => line),
        ...lawnsWith(({ edgeKind }) => edgeKind === "water"),
      ],
      false,
    ),
    publicEdges: new SegmentIndex(
      [
        ...outlines(things.filter(({ isPublic }) => isPublic)),
        ...site.edgeLines.filter(({ isPublic }) => isPublic).map(({ line }) => line),
      ],
      false,
    ),
    leads: site.outlets.length > 0 ? new LeadRoutes(site, parts, profile) : undefined,
    known,
  };
}

function outlines(things: readonly Thing[]): LineM[] {
  return things.flatMap(({ areas }) =>
    areas.flatMap((area) => [area.shell, ...area.holes].map(closed)),
  );
}

function closed(ring: Float64Array): LineM {
  return Float64Array.from([...ring, ring[0]!, ring[1]!]);
}
