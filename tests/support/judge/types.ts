import type { Feature, FeatureCollection, Geometry } from "geojson";
import type { Degrees, Plane, Xy } from "../plane.ts";
import type { Polygon } from "../topology.ts";

/** What is known of a site, in degrees, from whoever drew it: what the judge holds a plan against. */
export interface SiteTruth {
  readonly lawns: readonly { readonly polygon: Polygon; readonly setinM?: number }[];
  readonly things: readonly TrueThing[];
  readonly edgeLines?: readonly { readonly setinM: number; readonly line: readonly Degrees[] }[];
  /** Where no paired run and no guide wire may lie. */
  readonly noWire?: readonly Polygon[];
  /** Set-in of a lawn edge of which nothing more is known, metres. */
  readonly openSetinM: number;
}

export interface TrueThing {
  readonly name: string;
  /** `loop`: no wire may shut it in. `firm`: touched by the machine. `flush`: driven over. */
  readonly contact: "loop" | "firm" | "flush";
  readonly setinM: number;
  readonly polygons: readonly Polygon[];
}

export interface Breach {
  /** Short stable name of the rule, for tests. */
  readonly rule: string;
  readonly loop?: string;
  readonly at?: Degrees;
  readonly measured?: number | string;
  readonly allowed?: number | string;
}

/** Limits that come from the machine profile of the plan. */
export interface Limits {
  readonly spacingMaxM: number;
  readonly pairGapM: number;
  /** Shortfall of set-in that is let pass, metres (the contract's 10 mm). */
  readonly setinSlackM: number;
  /** Where edges of several kinds lie within this of each other, the least set-in counts, metres. */
  readonly relaxWithinM: number;
}

export interface Figures {
  /** Least of measured distance less asked set-in, metres; −0.010 is allowed. */
  setinMarginM: number;
  setinAt?: Degrees;
  maxSpanM: number;
  minGapM: number;
  maxGapM: number;
  minVertexApartM: number;
  maxPegOffM: number;
  maxChainageErrorM: number;
  /** Published length less geodesic length, metres, the largest in size. */
  lengthErrorM: number;
  wireM: number;
  pegs: number;
  pairSamples: number;
  groundErrorM2: number;
}

export interface Verdict {
  readonly breaches: readonly Breach[];
  readonly figures: Figures;
}

/** One loop as read from the file, with its place in the judge's plane. */
export interface WireLoop {
  readonly name: string;
  readonly degrees: readonly Degrees[];
  /** Closed: first vertex repeated at the end. */
  readonly wire: readonly Xy[];
  /** Distance along the wire at each vertex. */
  readonly chainage: readonly number[];
  readonly properties: Readonly<Record<string, unknown>>;
}

export interface Court {
  readonly plan: FeatureCollection<Geometry | null>;
  readonly summary: Readonly<Record<string, unknown>> | undefined;
  readonly plane: Plane;
  readonly loops: readonly WireLoop[];
  readonly limits: Limits;
  readonly figures: Figures;
  /** Records a breach at a place in the plane. */
  breach(rule: string, more?: Omit<Breach, "rule" | "at"> & { at?: Xy }): void;
}

export type PlanFeature = Feature<Geometry | null>;

export function ofKind(court: Court, kind: string, loop?: string): PlanFeature[] {
  return court.plan.features.filter(
    ({ properties }) =>
      properties?.kind === kind && (loop === undefined || properties.loop === loop),
  );
}

export function positions(feature: PlanFeature): Degrees[] {
  const { geometry } = feature;
  if (geometry?.type === "LineString") return geometry.coordinates;
  if (geometry?.type === "Point") return [geometry.coordinates];
  return [];
}

export function polygonsIn(feature: PlanFeature): Polygon[] {
  const { geometry } = feature;
  if (geometry?.type === "Polygon") return [geometry.coordinates];
  return geometry?.type === "MultiPolygon" ? geometry.coordinates : [];
}
