/**
 * Sites drawn in metres for tests: laid on the globe by geodesics (see plane.ts), written as
 * GeoJSON, and at the same time told to the judge as what is true.
 */
import type { Feature, Geometry, Position } from "geojson";
import type { SiteTruth, TrueThing } from "./judge/types.ts";
import { type Plane, planeAt, type Xy } from "./plane.ts";
import type { Polygon } from "./topology.ts";

/** Set-ins of the built-in profiles by edge kind, as docs/profile.md states them. */
export const SETIN_M = {
  open: 0.3,
  wall: 0.35,
  fence: 0.35,
  hedge: 0.3,
  kerb: 0.35,
  flush: 0.1,
  water: 1,
  drop: 1,
} as const;

export interface Drawn {
  readonly features: readonly Feature[];
  readonly truth: SiteTruth;
}

/** An open place in the Atlantic where there is no garden. */
export const SOMEWHERE: Position = [-28.5, 47.25];

export interface Placing {
  readonly origin?: Position;
  /** Turned anticlockwise about the origin, degrees. */
  readonly turnDeg?: number;
  readonly shift?: Xy;
}

/** A pen that draws features in metres and remembers what is true of them. */
export class Pen {
  readonly #plane: Plane;
  readonly #turn: number;
  readonly #shift: Xy;
  readonly #features: Feature[] = [];
  readonly #lawns: { polygon: Polygon }[] = [];
  readonly #things: TrueThing[] = [];
  readonly #noWire: Polygon[] = [];
  readonly #edgeLines: { setinM: number; line: Position[] }[] = [];

  constructor({ origin = SOMEWHERE, turnDeg = 0, shift = [0, 0] }: Placing = {}) {
    this.#plane = planeAt(origin);
    this.#turn = (turnDeg * Math.PI) / 180;
    this.#shift = shift;
  }

  at([x, y]: Xy): Position {
    const [c, s] = [Math.cos(this.#turn), Math.sin(this.#turn)];
    return this.#plane.toDegrees([c * x - s * y + this.#shift[0], s * x + c * y + this.#shift[1]]);
  }

  ring(points: readonly Xy[]): Position[] {
    const ring = points.map((point) => this.at(point));
    return [...ring, [...ring[0]!]];
  }

  add(geometry: Geometry, properties: Record<string, unknown>): void {
    this.#features.push({ type: "Feature", properties, geometry });
  }

  lawn(outline: readonly Xy[], properties: Record<string, unknown> = {}): this {
    const coordinates = [this.ring(outline)];
    this.add({ type: "Polygon", coordinates }, { role: "lawn", ...properties });
    this.#lawns.push({ polygon: coordinates });
    return this;
  }

  /** Something that is not lawn; contact and set-in are what the contract makes of it. */
  thing(
    outline: readonly Xy[],
    properties: Record<string, unknown>,
    contact: TrueThing["contact"] = "loop",
    setinM: number = SETIN_M.open,
  ): this {
    const coordinates = [this.ring(outline)];
    this.add({ type: "Polygon", coordinates }, properties);
    const name = String(properties.name ?? `${properties.role} ${this.#things.length + 1}`);
    this.#things.push({ name, contact, setinM, polygons: [coordinates] });
    return this;
  }

  bed(outline: readonly Xy[], name?: string): this {
    return this.thing(outline, { role: "bed", ...(name ? { name } : {}) });
  }

  /** An area with attributes of the ground for runs and no role; `wire` = `no` where none is given. */
  ground(outline: readonly Xy[], properties: Record<string, unknown> = { wire: "no" }): this {
    const coordinates = [this.ring(outline)];
    this.add({ type: "Polygon", coordinates }, properties);
    if (properties.wire === "no") this.#noWire.push(coordinates);
    return this;
  }

  edge(points: readonly Xy[], kind: keyof typeof SETIN_M): this {
    const coordinates = points.map((point) => this.at(point));
    this.add({ type: "LineString", coordinates }, { role: "edge", edge: kind });
    this.#edgeLines.push({ setinM: SETIN_M[kind], line: coordinates });
    return this;
  }

  point(point: Xy, properties: Record<string, unknown>): this {
    this.add({ type: "Point", coordinates: this.at(point) }, properties);
    return this;
  }

  /** What is true without being drawn, e.g. the trunk that a point stands for. */
  tell(thing: TrueThing): this {
    this.#things.push(thing);
    return this;
  }

  get drawn(): Drawn {
    return {
      features: this.#features,
      truth: {
        lawns: this.#lawns,
        things: this.#things,
        edgeLines: this.#edgeLines,
        ...(this.#noWire.length > 0 && { noWire: this.#noWire }),
        openSetinM: SETIN_M.open,
      },
    };
  }
}

export function rectangle(width: number, height: number, [x, y]: Xy = [0, 0]): Xy[] {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}

/** Regular polygon with its corners on the circle. */
export function disc([x, y]: Xy, radius: number, corners = 180): Xy[] {
  return Array.from({ length: corners }, (_, i): Xy => {
    const angle = (2 * Math.PI * i) / corners;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });
}
