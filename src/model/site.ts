import type { SourceRef } from "./finding.ts";
import type { AreaM, LineM, LonLat, PointM } from "./geometry.ts";
import type { EdgeKind, Role } from "./roles.ts";
import type { RunGround } from "./run-ground.ts";

/** The site grid: transverse Mercator on WGS 84 through `origin`, scale 1, no false origin. */
export interface SiteGrid {
  readonly origin: LonLat;
  /** PROJ string of the grid, for tools that want to read metres. */
  readonly projString: string;
  /** Degrees to metres. */
  forward(lonLat: LonLat): PointM;
  /** Metres to degrees. */
  inverse(pointM: PointM): LonLat;
}

/** One lawn, repaired and valid. Lawns of a site do not overlap; they may touch. */
export interface Lawn {
  readonly name: string;
  /** Has a hole only where other lawns lie in it (rare); what lies between is a thing. */
  readonly area: AreaM;
  /** Overrides the profile's set-in for this lawn's own edges, metres. */
  readonly setinM?: number;
  /** Kind of this lawn's own edge, where an attribute says so. */
  readonly edgeKind?: EdgeKind;
  /** Where lawns that say different things of their edges are one ground: what each says of its own. */
  readonly ownEdges?: readonly OwnEdges[];
  readonly source: SourceRef;
  /** All features that became this ground, where there are several. */
  readonly sources?: readonly SourceRef[];
}

/** A lawn as it was drawn before it became one ground with others, and what it says of its edges. */
export interface OwnEdges {
  readonly area: AreaM;
  readonly setinM?: number;
  readonly edgeKind?: EdgeKind;
}

/** Something that is not lawn: a bed, a pond, a house, a tree, a path. */
export interface Thing {
  /** Stable within a site: role and running number in input order, e.g. `bed-3`. */
  readonly id: string;
  readonly role: Role;
  /** The feature's own name, or role and number. */
  readonly name: string;
  readonly areas: readonly AreaM[];
  /**
   * `loop`: the wire must shut it out. `firm`: the machine touches it and turns, no wire needed.
   * `flush`: firm paving level with the lawn, which the machine may run over.
   */
  readonly contact: "loop" | "firm" | "flush";
  /** What the lawn's edge along it is; `open` where nothing better is known. */
  readonly edgeKind: EdgeKind;
  /** Overrides the profile's set-in, metres. */
  readonly setinM?: number;
  readonly heightM?: number;
  /** Diameter of a tree's crown, metres. */
  readonly crownM?: number;
  /** Whether the public comes by: a road, a footway. */
  readonly isPublic?: boolean;
  /** What a hole in a lawn left: no feature of its own, its source is the lawn's. */
  readonly isHole?: boolean;
  readonly source: SourceRef;
}

/** A line that tells what the lawn edge near it is. */
export interface EdgeLine {
  readonly kind: EdgeKind;
  readonly line: LineM;
  readonly setinM?: number;
  /** Of a wall, fence or hedge. */
  readonly heightM?: number;
  /** Of several lines along one edge the greatest decides, then the greater set-in; 0 where left out. */
  readonly precedence?: number;
  readonly isPublic?: boolean;
  readonly source: SourceRef;
}

/** A named point that the user placed. */
export interface PlacedPoint {
  readonly name: string;
  readonly atM: PointM;
  readonly source: SourceRef;
}

/** The site: repaired, in metres, each thing with a role. Everything the planner knows of it. */
export interface Site {
  readonly name: string;
  readonly grid: SiteGrid;
  readonly lawns: readonly Lawn[];
  readonly things: readonly Thing[];
  readonly edgeLines: readonly EdgeLine[];
  readonly stations: readonly PlacedPoint[];
  readonly outlets: readonly PlacedPoint[];
  readonly controls: readonly PlacedPoint[];
  /** Things farther off that cast shade, bar the way of a lead, or are public. */
  readonly around?: readonly Thing[];
  /** Heights of the ground from control features: east, north, height, … in metres. */
  readonly spotHeights?: Float64Array;
  /** Where paired runs and guide wires cost more or may not lie; none where left out. */
  readonly runGround?: readonly RunGround[];
}
