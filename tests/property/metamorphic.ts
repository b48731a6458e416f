/**
 * Changes to a sketch that must not change its wire, and what to compare. The wires are compared in
 * the sketch's own metres: what was turned is turned back.
 */
import type { Feature, Position } from "geojson";
import type { InputFile } from "../../src/index.ts";
import { planeAt, type Xy } from "../support/plane.ts";
import { distance, nearestOn, ringArea, SegmentGrid, segmentsOf } from "../support/segments.ts";
import { judged, type Planned, planned } from "./rules.ts";
import { drawn, machineOf, type Piece, type Placing, type Sketch } from "./sketch.ts";

export interface Change {
  readonly name: string;
  /** `same`: to a millimetre. `alike`: pegs may be chosen otherwise, within what they may wander. */
  readonly keeps: "same" | "alike";
  apply(sketch: Sketch, random: () => number): Sketch;
  /** The sketch in another format or reference system. */
  write?(sketch: Sketch): InputFile[];
}

const placed = (sketch: Sketch, placing: Partial<Placing>): Sketch => ({
  ...sketch,
  placing: { ...sketch.placing, ...placing },
});

const changedPieces = (sketch: Sketch, change: (piece: Piece) => Piece): Sketch => ({
  ...sketch,
  pieces: sketch.pieces.map(change),
});

const changedRings = (sketch: Sketch, change: (ring: readonly Xy[]) => readonly Xy[]): Sketch =>
  changedPieces(sketch, (piece) =>
    "area" in piece ? { ...piece, area: piece.area.map(change) } : piece,
  );

function shuffled<T>(list: readonly T[], random: () => number): T[] {
  const rest = [...list];
  return list.map(() => rest.splice(Math.floor(random() * rest.length), 1)[0]!);
}

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** KML by hand: placemarks with their attributes as extended data. */
function kmlOf(features: readonly Feature[]): string {
  const list = (line: readonly Position[]): string => line.map((at) => at.join(",")).join(" ");
  const ring = (name: string, line: readonly Position[]): string =>
    `<${name}><LinearRing><coordinates>${list(line)}</coordinates></LinearRing></${name}>`;
  const placemarks = features.map(({ properties, geometry }) => {
    const data = Object.entries(properties ?? {}).map(
      ([key, value]) => `<Data name="${key}"><value>${value}</value></Data>`,
    );
    const shape =
      geometry.type === "Polygon"
        ? `<Polygon>${geometry.coordinates.map((line, i) => ring(i === 0 ? "outerBoundaryIs" : "innerBoundaryIs", line)).join("")}</Polygon>`
        : geometry.type === "LineString"
          ? `<LineString><coordinates>${list(geometry.coordinates)}</coordinates></LineString>`
          : geometry.type === "Point"
            ? `<Point><coordinates>${geometry.coordinates.join(",")}</coordinates></Point>`
            : "";
    return `<Placemark><name>${properties?.name}</name><ExtendedData>${data.join("")}</ExtendedData>${shape}</Placemark>`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document>${placemarks.join("")}</Document></kml>`;
}

/** Radius of the sphere of EPSG:3857, metres (EPSG Guidance Note 7-2, method 1024). */
const SPHERE_M = 6_378_137;

/** Degrees to EPSG:3857, by the closed formulas of its definition. */
function toMercator([lon, lat]: Position): Position {
  const phi = (lat! * Math.PI) / 180;
  return [(SPHERE_M * lon! * Math.PI) / 180, SPHERE_M * Math.log(Math.tan(Math.PI / 4 + phi / 2))];
}

function mercatorOf(features: readonly Feature[]): string {
  const changed = features.map((feature) => ({
    ...feature,
    geometry: JSON.parse(JSON.stringify(feature.geometry), (_, value) =>
      Array.isArray(value) && typeof value[0] === "number" ? toMercator(value) : value,
    ),
  }));
  const crs = { type: "name", properties: { name: "urn:ogc:def:crs:EPSG::3857" } };
  return JSON.stringify({ type: "FeatureCollection", crs, features: changed });
}

/** Changes after which the wire is the same, but for where it begins and how it is written. */
export const CHANGES: readonly Change[] = [
  {
    name: "turned about the origin",
    keeps: "alike",
    apply: (sketch, random) =>
      placed(sketch, { turnDeg: sketch.placing.turnDeg + 1 + 358 * random() }),
  },
  {
    name: "moved",
    keeps: "alike",
    apply: (sketch, random) => placed(sketch, { shift: [80 * random() - 40, 80 * random() - 40] }),
  },
  {
    name: "laid elsewhere on the globe",
    keeps: "alike",
    apply: (sketch, random) =>
      placed(sketch, { lon: 340 * random() - 170, lat: 120 * random() - 60 }),
  },
  {
    name: "mirrored",
    keeps: "alike",
    apply: (sketch) => placed(sketch, { mirrored: !sketch.placing.mirrored }),
  },
  {
    name: "features in another order",
    keeps: "same",
    apply: (sketch, random) => ({ ...sketch, pieces: shuffled(sketch.pieces, random) }),
  },
  {
    name: "rings begun at another vertex",
    keeps: "same",
    apply: (sketch, random) =>
      changedRings(sketch, (ring) => {
        const k = Math.floor(random() * ring.length);
        return [...ring.slice(k), ...ring.slice(0, k)];
      }),
  },
  {
    name: "rings wound the other way",
    keeps: "same",
    apply: (sketch) => changedRings(sketch, (ring) => [...ring].reverse()),
  },
  {
    name: "edges split by points on them",
    keeps: "alike",
    apply: (sketch, random) =>
      changedRings(sketch, (ring) =>
        ring.flatMap((a, i) => {
          const b = ring[(i + 1) % ring.length]!;
          // Near points would be merged; those are the generator's own matter.
          if (distance(a, b) < 0.5 || random() < 0.5) return [a];
          const share = 0.2 + 0.6 * random();
          return [a, [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])] as Xy];
        }),
      ),
  },
  {
    name: "another lawn 300 m away",
    keeps: "alike",
    apply: (sketch) => ({
      ...sketch,
      pieces: [
        ...sketch.pieces,
        {
          area: [
            [
              [300, 0],
              [304, 0],
              [304, 3],
              [300, 3],
            ],
          ],
          is: { role: "lawn" },
        },
      ],
    }),
  },
  {
    name: "written as KML",
    keeps: "alike",
    apply: (sketch) => sketch,
    write: (sketch) => [{ name: "site.kml", bytes: bytes(kmlOf(drawn(sketch).features)) }],
  },
  {
    name: "written in another reference system",
    keeps: "alike",
    apply: (sketch) => sketch,
    write: (sketch) => [{ name: "site.geojson", bytes: bytes(mercatorOf(drawn(sketch).features)) }],
  },
];

/** The wire of a plan in the sketch's own metres, as far as it lies near the origin. */
export interface Laid {
  readonly wires: readonly (readonly Xy[])[];
  readonly runs: readonly (readonly Xy[])[];
  readonly islands: number;
}

/** What a change adds lies farther out than this, metres. */
const FAR_M = 250;

export function laidOf(sketch: Sketch, plan: Planned): Laid {
  if (plan.kind !== "planned") return { wires: [], runs: [], islands: 0 };
  const { lon, lat, turnDeg, shift, mirrored } = sketch.placing;
  const plane = planeAt([lon, lat]);
  const turn = (-turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const back = (at: Position): Xy => {
    const [x0, y0] = plane.toPlane(at);
    const [x, y] = [x0 - shift[0], y0 - shift[1]];
    const e = c * x - s * y;
    return [mirrored ? -e : e, s * x + c * y];
  };
  const { features } = plan.written.plan;
  const lines = (kind: string): Xy[][] =>
    features.flatMap(({ properties, geometry }) =>
      properties?.kind === kind && geometry?.type === "LineString"
        ? [geometry.coordinates.map(back)].filter((line) => line[0]![0] < FAR_M)
        : [],
    );
  return {
    wires: lines("boundary-wire"),
    runs: lines("paired-run"),
    islands: features.filter(({ properties }) => properties?.kind === "exclusion-loop").length,
  };
}

export const lengthOf = (lines: readonly (readonly Xy[])[]): number =>
  lines.reduce(
    (sum, line) => sum + segmentsOf(line, 0).reduce((m, { a, b }) => m + distance(a, b), 0),
    0,
  );

export const enclosedM2 = ({ wires }: Laid): number =>
  wires.reduce((sum, wire) => sum + ringArea(wire.slice(0, -1)), 0);

/** Wire this near to the middle of a run is of a pair, metres. */
const ON_RUN_M = 0.03;

/** How far wire of one plan lies from that of the other at most, metres; single wire where so asked. */
export function farthestM(one: Laid, other: Laid, singleOnly: boolean): number {
  const grid = new SegmentGrid(other.wires.flatMap((wire) => segmentsOf(wire, 0)));
  const runs = new SegmentGrid(one.runs.flatMap((run) => segmentsOf(run, 0)));
  const nearest = (lines: SegmentGrid<number>, p: Xy, reach: number): number =>
    lines
      .near(p, p, reach)
      .map((k) => distance(p, nearestOn(p, lines.all[k]!.a, lines.all[k]!.b)))
      .reduce((least, d) => Math.min(least, d), Infinity);
  let most = 0;
  for (const wire of one.wires) {
    for (const { a, b } of segmentsOf(wire, 0)) {
      for (const share of [0, 0.5]) {
        const p: Xy = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
        if (singleOnly && nearest(runs, p, ON_RUN_M) < ON_RUN_M) continue;
        let least = Infinity;
        for (const reach of [0.05, 0.5, 4]) {
          if (least > reach) least = nearest(grid, p, reach);
        }
        most = Math.max(most, least);
      }
    }
  }
  return most;
}

/** Two plans that are the same differ by rounding, metres. */
const SAME_M = 0.001;
/** Beside wandering pegs: corners of spans between them, metres. */
const ALIKE_M = 0.03;

/** How far pegs of a sketch's machine may wander in from the set-in, metres. */
export function wanderM(sketch: Sketch): number {
  const { pegs, passage } = machineOf(sketch);
  return Math.min(pegs.wanderMaxM, passage.driveMinM / 6);
}

/** What two plans differ in that should be alike; empty where nothing. */
export function differences(
  sketch: Sketch,
  [plan, before]: readonly [Planned, Laid],
  [changed, after]: readonly [Planned, Laid],
  keeps: Change["keeps"],
): string[] {
  if (plan.kind !== "planned") {
    const is = before.wires.length === after.wires.length || plan.kind === changed.kind;
    return is ? [] : [`${plan.kind} is ${changed.kind} now`];
  }
  const said: string[] = [];
  const [loops, now] = [before.wires.length, after.wires.length];
  if (loops !== now) return [`${loops} loops are ${now} now`];
  if (before.islands !== after.islands)
    said.push(`${before.islands} islands are ${after.islands} now`);
  if (before.runs.length !== after.runs.length)
    said.push(`${before.runs.length} runs are ${after.runs.length} now`);
  const allowed = keeps === "same" ? SAME_M : wanderM(sketch) + ALIKE_M;
  const farM = Math.max(
    farthestM(before, after, keeps === "alike"),
    farthestM(after, before, keeps === "alike"),
  );
  if (farM > allowed) said.push(`wire ${farM.toFixed(3)} m away, ${allowed.toFixed(3)} allowed`);
  return said;
}

/** Every set-in wider by so much, also where an attribute gives it. */
export function wider(sketch: Sketch, byM: number): Sketch {
  const { setinM } = machineOf(sketch);
  const more = (m: number): number => Math.round(1000 * (m + byM)) / 1000;
  const setins = Object.fromEntries(Object.entries(setinM).map(([kind, m]) => [kind, more(m)]));
  return {
    ...changedPieces(sketch, (piece) =>
      piece.is.setin_m === undefined
        ? piece
        : { ...piece, is: { ...piece.is, setin_m: more(Number(piece.is.setin_m)) } },
    ),
    machine: { ...sketch.machine, setin_m: setins as unknown as typeof setinM & object },
  } as Sketch;
}

/** A bed more, somewhere in the box of the first lawn. */
export function withIsland(sketch: Sketch, random: () => number): Sketch {
  const lawn = sketch.pieces.find((piece) => piece.is.role === "lawn");
  const ring = lawn && "area" in lawn ? lawn.area[0]! : [];
  const at = ([0, 1] as const).map((k) => {
    const all = ring.map((p) => p[k]);
    const least = Math.min(...all);
    return least + random() * (Math.max(...all) - least);
  }) as [number, number];
  const radius = 0.2 + 0.8 * random();
  const corners = 3 + Math.floor(6 * random());
  const bed = Array.from({ length: corners }, (_, i): Xy => {
    const angle = (2 * Math.PI * i) / corners;
    return [at[0] + radius * Math.cos(angle), at[1] + radius * Math.sin(angle)];
  });
  return { ...sketch, pieces: [...sketch.pieces, { area: [bed], is: { role: "bed" } }] };
}

/** How much all set-ins are widened by: more than pegs may wander, metres. */
const WIDER_M = 0.2;

/** What of all this a sketch does not keep, one line each, and how many cases were looked at. */
export async function brokenBy(
  sketch: Sketch,
  random: () => number,
): Promise<{ cases: number; broken: string[] }> {
  const broken: string[] = [];
  const plan = await planned(sketch);
  const laid = laidOf(sketch, plan);
  for (const { name, keeps, apply, write } of CHANGES) {
    const changed = apply(sketch, random);
    const again = await planned(changed, write?.(changed));
    const said = differences(sketch, [plan, laid], [again, laidOf(changed, again)], keeps);
    broken.push(...said.map((one) => `${name}: ${one}`));
  }
  const wide = wider(sketch, WIDER_M);
  const [m2, wideM2] = [enclosedM2(laid), enclosedM2(laidOf(wide, await planned(wide)))];
  if (wideM2 > m2 + 0.01) {
    broken.push(`wider set-ins: ${m2.toFixed(2)} m² enclosed are ${wideM2.toFixed(2)} m² now`);
  }
  const { breaches } = await judged(withIsland(sketch, random));
  if (breaches.length > 0) broken.push(`one island more: ${breaches.join("; ")}`);
  return { cases: CHANGES.length + 2, broken };
}
