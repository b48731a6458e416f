/**
 * A site as plain data, in metres: what the generator makes, what a counterexample is written as,
 * and what the metamorphic tests change. `drawn` lays it on the globe (by geodesics, not by the
 * program's own projection) and tells the judge what is true of it.
 */
import type { Feature, Geometry, Position } from "geojson";
import type { PartsChoice, Profile } from "../../src/index.ts";
import { builtInFile } from "../../src/profile/built-in.ts";
import { profileOfFile } from "../../src/profile/convert.ts";
import type { ProfileName } from "../../src/profile/names.ts";
import type { ProfileFile } from "../../src/profile/profile-file.ts";
import type { SiteTruth, TrueThing } from "../support/judge/types.ts";
import { planeAt, type Xy } from "../support/plane.ts";
import { disc } from "../support/sites.ts";

export type Attributes = Readonly<Record<string, string | number | boolean>>;

/** A feature in metres. `area` has rings without their first point repeated, the shell first. */
export type Piece =
  | { readonly area: readonly (readonly Xy[])[]; readonly is: Attributes }
  | { readonly line: readonly Xy[]; readonly is: Attributes }
  | { readonly point: Xy; readonly is: Attributes };

export interface Placing {
  readonly lon: number;
  readonly lat: number;
  /** Turned anticlockwise about the origin, degrees. */
  readonly turnDeg: number;
  /** Moved after turning, metres. */
  readonly shift: Xy;
  /** Mirrored at the y axis before turning. */
  readonly mirrored?: boolean;
}

export interface Sketch {
  readonly placing: Placing;
  readonly pieces: readonly Piece[];
  readonly machine: Omit<ProfileFile, "name" | "based_on"> & { readonly based_on: ProfileName };
  readonly split: boolean;
  readonly parts?: PartsChoice;
}

export interface DrawnSketch {
  readonly features: readonly Feature[];
  readonly truth: SiteTruth;
  readonly profile: Profile;
}

/** The machine of a sketch: a built-in one with changes. */
export function machineOf({ machine }: Pick<Sketch, "machine">): Profile {
  const { based_on, ...changes } = machine;
  const file = builtInFile(based_on);
  const merged = Object.fromEntries(
    Object.entries(file).map(([key, value]) => {
      const change = (changes as Record<string, unknown>)[key];
      return [key, typeof value === "object" ? { ...value, ...(change as object) } : value];
    }),
  );
  return profileOfFile({ ...(merged as typeof file), name: "sketched" });
}

export function drawn(sketch: Sketch): DrawnSketch {
  const { placing, pieces } = sketch;
  const profile = machineOf(sketch);
  const plane = planeAt([placing.lon, placing.lat]);
  const turn = (placing.turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const at = ([x0, y]: Xy): Position => {
    const x = placing.mirrored ? -x0 : x0;
    return plane.toDegrees([c * x - s * y + placing.shift[0], s * x + c * y + placing.shift[1]]);
  };
  const closed = (ring: readonly Xy[]): Position[] => {
    const there = ring.map(at);
    return [...there, [...there[0]!]];
  };
  const features: Feature[] = [];
  const lawns: { polygon: Position[][]; setinM?: number }[] = [];
  const things: TrueThing[] = [];
  const edgeLines: { setinM: number; line: Position[] }[] = [];
  pieces.forEach((piece, i) => {
    const properties = { name: `${piece.is.role} ${i}`, ...piece.is };
    const geometry: Geometry =
      "area" in piece
        ? { type: "Polygon", coordinates: piece.area.map(closed) }
        : "line" in piece
          ? { type: "LineString", coordinates: piece.line.map(at) }
          : { type: "Point", coordinates: at(piece.point) };
    features.push({ type: "Feature", properties, geometry });
    if (piece.is.role === "lawn" && geometry.type === "Polygon") {
      const setinM = setinOf(piece.is, "open", profile);
      lawns.push({ polygon: geometry.coordinates.slice(0, 1), setinM });
      for (const hole of geometry.coordinates.slice(1)) {
        things.push({
          name: `hole of ${i}`,
          contact: "loop",
          setinM: profile.setinM.open,
          polygons: [[hole]],
        });
      }
    } else if (piece.is.role === "edge" && geometry.type === "LineString") {
      edgeLines.push({
        setinM: setinOf(piece.is, "open", profile),
        line: geometry.coordinates,
      });
    } else if (piece.is.role !== "station") {
      const size = Number(piece.is.soil_radius_m ?? Number(piece.is.diameter_m ?? 0.3) / 2);
      const polygon =
        "area" in piece
          ? piece.area.map(closed)
          : [closed(disc("point" in piece ? piece.point : [0, 0], size, 180))];
      things.push({ name: properties.name, ...touch(piece.is, profile), polygons: [polygon] });
    }
  });
  return {
    features,
    profile,
    truth: { lawns, things, edgeLines, openSetinM: profile.setinM.open },
  };
}

function setinOf(is: Attributes, usual: keyof Profile["setinM"], profile: Profile): number {
  if (is.setin_m !== undefined) return Number(is.setin_m);
  return profile.setinM[(is.edge ?? usual) as keyof Profile["setinM"]];
}

/** Contact and set-in of a thing after docs/roles.md, told here a second time. */
function touch(is: Attributes, profile: Profile): Pick<TrueThing, "contact" | "setinM"> {
  const low = is.height_m !== undefined && Number(is.height_m) < profile.obstacles.lowHeightM;
  const young =
    is.soil_radius_m !== undefined ||
    (is.diameter_m !== undefined && Number(is.diameter_m) < profile.obstacles.youngTrunkM);
  const flush = is.role === "paving" && (is.edge === "flush" || is.loop === "no");
  const firm =
    is.role === "building" || (is.role === "firm" && !low) || (is.role === "tree" && !young);
  const usual =
    is.role === "water"
      ? "water"
      : is.role === "building" || (is.role === "firm" && !low)
        ? "wall"
        : "open";
  const setinM = setinOf(is, usual, profile);
  if (is.loop === "yes") return { contact: "loop", setinM };
  if (is.loop === "no") return { contact: is.role === "paving" ? "flush" : "firm", setinM };
  return { contact: flush ? "flush" : firm ? "firm" : "loop", setinM };
}
