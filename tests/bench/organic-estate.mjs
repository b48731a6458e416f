// A seeded estate: one lawn of organic outline with rounded islands in it, as GeoJSON. Invented.
// The same numbers always give the same bytes.
import { seeded } from "./seeded.mjs";

const METRES_PER_DEGREE = 111_195;

/** A closed wavy ring: radius times 1 plus a few harmonics, which keep it star-shaped. */
function organicRing(random, [x, y], radiusM, count, waves, depth) {
  const parts = Array.from({ length: waves }, (_, k) => ({
    turns: k + 2,
    size: (depth * random()) / (k + 1),
    phase: 2 * Math.PI * random(),
  }));
  const ring = [];
  for (let i = 0; i < count; i++) {
    const angle = (2 * Math.PI * i) / count;
    let factor = 1;
    for (const { turns, size, phase } of parts) factor += size * Math.sin(turns * angle + phase);
    ring.push([x + radiusM * factor * Math.cos(angle), y + radiusM * factor * Math.sin(angle)]);
  }
  ring.push(ring[0]);
  return ring;
}

/**
 * @param {{ vertices: number, islands: number, seed: number }} size vertices in all, about; islands of
 *   the same number of vertices each share 60 % of them
 * @returns {{ geojson: object, vertices: number, islands: number, hectares: number }}
 */
export function organicEstate({ vertices, islands, seed }) {
  const random = seeded(seed);
  const spacingM = 12;
  const radiusM = Math.max(30, spacingM * Math.sqrt(islands / Math.PI) * 1.35);
  const islandVertices = Math.max(8, Math.round((vertices * 0.6) / Math.max(1, islands)));
  const outline = organicRing(
    random,
    [0, 0],
    radiusM,
    Math.max(24, vertices - islands * islandVertices),
    12,
    0.06,
  );
  const places = [];
  const reach = Math.ceil((radiusM * 0.8) / spacingM);
  for (let row = -reach; row <= reach; row++)
    for (let column = -reach; column <= reach; column++) {
      const place = [
        (column + (random() - 0.5) * 0.45) * spacingM,
        (row + (random() - 0.5) * 0.45) * spacingM,
      ];
      if (Math.hypot(...place) < radiusM * 0.8) places.push(place);
    }
  while (places.length > islands) places.splice(Math.floor(random() * places.length), 1);
  const [lon0, lat0] = [8, 48];
  const toDegrees = ([x, y]) => [
    Number((lon0 + x / (METRES_PER_DEGREE * Math.cos((lat0 * Math.PI) / 180))).toFixed(9)),
    Number((lat0 + y / METRES_PER_DEGREE).toFixed(9)),
  ];
  const feature = (role, ring, name) => ({
    type: "Feature",
    properties: { role, name },
    geometry: { type: "Polygon", coordinates: [ring.map(toDegrees)] },
  });
  const features = [feature("lawn", outline, "the great lawn")];
  places.forEach((place, index) => {
    const ring = organicRing(random, place, 1 + 1.6 * random(), islandVertices, 4, 0.12);
    features.push(feature("bed", ring, `bed ${index + 1}`));
  });
  return {
    geojson: { type: "FeatureCollection", features },
    vertices: outline.length - 1 + places.length * islandVertices,
    islands: places.length,
    hectares: (Math.PI * radiusM ** 2) / 10_000,
  };
}
