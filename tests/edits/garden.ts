/** An invented garden in two files, with a site file that somebody wrote by hand. */
import type { Feature, Geometry, Position } from "geojson";
import { siteGridAt } from "../../src/crs/site-grid.ts";
import type { InputFile } from "../../src/model/features.ts";
import type { PageSource } from "../../src/page/worker/source.ts";

const grid = siteGridAt([10, 50]);
/** Degrees of a place in metres about 10° east, 50° north. */
export const at = (e: number, n: number): Position => [...grid.inverse([e, n])];

export function rect(e: number, n: number, width: number, height = width): Geometry {
  const corners: [number, number][] = [
    [e, n],
    [e + width, n],
    [e + width, n + height],
    [e, n + height],
    [e, n],
  ];
  return { type: "Polygon", coordinates: [corners.map(([x, y]) => at(x, y))] };
}

export function feature(properties: object, geometry: Geometry, id?: string): Feature {
  return { type: "Feature", ...(id && { id }), properties, geometry } as Feature;
}

export function file(name: string, ...features: Feature[]): InputFile {
  const text = JSON.stringify({ type: "FeatureCollection", features });
  return { name, bytes: new TextEncoder().encode(text) };
}

const hole = rect(22, 4, 3) as { coordinates: Position[][] };
const lawn = rect(0, 0, 30, 20) as { coordinates: Position[][] };

/** Feature 1 a lawn with a hole; 2 roses with an id; 3 an oak; 4 a station. */
export const GARDEN = file(
  "survey/garden.geojson",
  feature(
    { role: "lawn", name: "Lawn" },
    { type: "Polygon", coordinates: [...lawn.coordinates, ...hole.coordinates] },
  ),
  feature({ role: "bed", name: 'Roses <b>&"' }, rect(8, 8, 3), "bed/7"),
  feature({ role: "tree", diameter_m: 0.4 }, { type: "Point", coordinates: at(16, 12) }),
  feature({ role: "station", name: "Shed" }, { type: "Point", coordinates: at(15, 0) }),
);

/** Feature 1 a terrace along the south. */
export const PAVING = file(
  "survey/paving.geojson",
  feature({ role: "paving", name: "Terrace" }, rect(0, -3, 30, 3)),
);

export const SITE_FILE = `// Our garden
{
  "inputs": ["./survey/garden.geojson", "survey/paving.geojson"], // of May
  "profile": "small", // the small one
  /* roles: none yet */
  "prices": { "currency": "EUR", "items": [{ "name": "Wire", "per": "wire_m", "unit_price": 0.5 }] },
  "features": [
    { "layer": "garden", "number": 3, "set": { "height_m": 6 } }, // measured
  ],
}
`;

/** Comments that must outlive every edit. */
export const COMMENTS = [
  "// Our garden",
  "// of May",
  "// the small one",
  "/* roles: none yet */",
  "// measured",
];

export const SOURCE: PageSource = {
  siteFile: { name: "pegline.json", text: SITE_FILE },
  files: { inputs: [GARDEN, PAVING] },
  epsg: [],
};

export const OF = {
  lawn: { in: "feature", file: GARDEN.name, layer: "garden", number: 1 },
  roses: { in: "feature", file: GARDEN.name, layer: "garden", number: 2 },
  oak: { in: "feature", file: GARDEN.name, layer: "garden", number: 3 },
  terrace: { in: "feature", file: PAVING.name, layer: "paving", number: 1 },
} as const;
