/** Invented sites, in metres about a place in the open Atlantic: a school, an estate, a rectangle. */
import type { Feature, Polygon, Position } from "geojson";
import { sampleGrid } from "../sample-plan.ts";

type Place = readonly [east: number, north: number];
type Properties = Readonly<Record<string, unknown>>;

const grid = sampleGrid();
const degrees = ([east, north]: Place): Position => [...grid.inverse([east, north])];

function area(ring: readonly Place[], properties: Properties): Feature<Polygon> {
  const coordinates = [[...ring, ring[0]!].map(degrees)];
  return { type: "Feature", geometry: { type: "Polygon", coordinates }, properties };
}

const box = (west: number, south: number, east: number, north: number): Place[] => [
  [west, south],
  [east, south],
  [east, north],
  [west, north],
];

function oval(east: number, north: number, halfE: number, halfN: number, corners = 48): Place[] {
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * i) / corners;
    return [east + halfE * Math.cos(angle), north + halfN * Math.sin(angle)] as const;
  });
}

const point = (at: Place, properties: Properties): Feature => ({
  type: "Feature",
  geometry: { type: "Point", coordinates: degrees(at) },
  properties,
});

const edge = (line: readonly Place[], kind: string): Feature => ({
  type: "Feature",
  geometry: { type: "LineString", coordinates: line.map(degrees) },
  properties: { role: "edge", edge: kind },
});

const file = (features: readonly Feature[]): Uint8Array =>
  new TextEncoder().encode(JSON.stringify({ type: "FeatureCollection", features }));

/** A lawn of exactly so many metres, with nothing on it. */
export const rectangle = (widthM: number, heightM: number): Uint8Array =>
  file([area(box(0, 0, widthM, heightM), { role: "lawn", name: "Green" })]);

/** A field, a front lawn with a flag, a courtyard, flower beds, trees, a wildlife pond. */
export function school(): Uint8Array {
  const trees = Array.from({ length: 9 }, (_, i) =>
    point([6 + 11 * i, 71], { role: "tree", name: `Plane ${i + 1}`, diameter_m: 0.4 }),
  );
  return file([
    area(box(0, 0, 98, 75), { role: "lawn", name: "Playing field" }),
    area(box(104, 38, 150, 75), { role: "lawn", name: "Front lawn" }),
    area(box(113, 8, 137, 28), { role: "lawn", name: "Courtyard" }),
    area(
      [
        [104, 0],
        [150, 0],
        [150, 36],
        [138, 36],
        [138, 7],
        [112, 7],
        [112, 36],
        [104, 36],
      ],
      { role: "building", name: "School house", height_m: 9 },
    ),
    area(box(112, 29, 138, 36), { role: "paving", name: "Playground" }),
    area(box(99, 0, 103, 75), { role: "paving", name: "Drive" }),
    area(oval(80, 20, 9, 6), { role: "water", name: "Wildlife pond" }),
    area(box(80, 36, 92, 39), { role: "bed", name: "Willow bed" }),
    area(box(20, 60, 50, 62.5), { role: "bed", name: "Long border" }),
    area(oval(127, 56, 3, 3), { role: "bed", name: "Rose circle" }),
    area(box(119, 14, 131, 16), { role: "bed", name: "Herbs" }),
    area(oval(125, 23, 0.9, 0.9), { role: "firm", name: "Sundial", height_m: 1.1 }),
    area(box(10, 10, 22, 18), { role: "gravel", name: "Long jump" }),
    ...trees,
    point([109, 66], { role: "tree", name: "Lime", diameter_m: 0.8 }),
    point([145, 70], { role: "tree", name: "Copper beech", diameter_m: 1.1, soil_radius_m: 1.2 }),
    point([112.2, 30], { role: "outlet", name: "Socket, east door" }),
    edge(
      [
        [0, 0],
        [0, 75],
        [98, 75],
      ],
      "fence",
    ),
    edge(
      [
        [104, 75],
        [150, 75],
      ],
      "hedge",
    ),
  ]);
}

/** A park with a lake, an avenue, a house on a terrace, and a walled garden behind a narrow gate. */
export function estate(): Uint8Array {
  const avenue = Array.from({ length: 12 }, (_, i) =>
    [-1, 1].map((side) =>
      point([150 + side * 9, 12 + 9 * i], { role: "tree", name: "Avenue", diameter_m: 0.7 }),
    ),
  ).flat();
  return file([
    area(
      [
        [0, 0],
        [210, -8],
        [300, 20],
        [305, 150],
        [240, 205],
        [80, 210],
        [-10, 140],
      ],
      { role: "lawn", name: "Park" },
    ),
    area(
      [
        [30, 40],
        [60, 28],
        [95, 40],
        [105, 65],
        [85, 95],
        [50, 90],
        [25, 70],
      ],
      { role: "water", name: "Lake" },
    ),
    area(box(120, 150, 182, 178), { role: "building", name: "Great house", height_m: 14 }),
    area(box(112, 138, 190, 150), { role: "paving", name: "Terrace" }),
    area(box(147, -10, 153, 138), { role: "gravel", name: "Drive" }),
    area(box(205, 60, 206, 130), { role: "firm", name: "Garden wall", height_m: 3 }),
    area(box(205, 60, 275, 61), { role: "firm", name: "Garden wall", height_m: 3 }),
    area(box(274, 60, 275, 130), { role: "firm", name: "Garden wall", height_m: 3 }),
    area(box(205, 129, 238, 130), { role: "firm", name: "Garden wall", height_m: 3 }),
    area(box(242, 129, 275, 130), { role: "firm", name: "Garden wall", height_m: 3 }),
    area(box(212, 70, 228, 76), { role: "bed", name: "Peonies" }),
    area(box(250, 70, 268, 76), { role: "bed", name: "Irises" }),
    area(box(212, 112, 228, 118), { role: "bed", name: "Delphiniums" }),
    area(oval(240, 95, 6, 6), { role: "water", name: "Dipping pond" }),
    area(oval(60, 150, 8, 5), { role: "bed", name: "Azaleas" }),
    area(oval(95, 180, 5, 5), { role: "bed", name: "Magnolia" }),
    ...avenue,
    point([60, 120], { role: "tree", name: "Cedar", diameter_m: 1.6, soil_radius_m: 2.5 }),
    point([225, 190], { role: "tree", name: "Old oak", diameter_m: 1.4 }),
    point([119, 160], { role: "outlet", name: "Socket, west front" }),
  ]);
}
