/** Seeded invented sites: organic lawns with islands, trees, huts, paths and edge lines. */
import { seeded } from "../../src/physics/coverage/seeded.ts";
import type { Xy } from "./plane.ts";
import { inside } from "./segments.ts";
import { type Drawn, disc, Pen, SETIN_M } from "./sites.ts";

/** A closed outline about a centre whose radius swings smoothly: never crosses itself. */
export function blob(
  random: () => number,
  [x, y]: Xy,
  radius: number,
  corners: number,
  swing: number,
): Xy[] {
  const waves = [2, 3, 5, 7].map((k) => ({
    k,
    size: (swing * random()) / Math.sqrt(k),
    phase: 2 * Math.PI * random(),
  }));
  return Array.from({ length: corners }, (_, i): Xy => {
    const angle = (2 * Math.PI * i) / corners;
    const swung = waves.reduce(
      (sum, { k, size, phase }) => sum + size * Math.sin(k * angle + phase),
      1,
    );
    const r = radius * Math.max(0.25, swung);
    return [x + r * Math.cos(angle), y + r * Math.sin(angle)];
  });
}

export interface SiteWishes {
  /** Only lawn and beds: every edge has the same set-in. */
  readonly oneKind?: boolean;
}

/** The same seed and wishes, the same site. */
export function randomSite(seed: number, { oneKind = false }: SiteWishes = {}): Drawn {
  const random = seeded(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const pen = new Pen({
    origin: [-170 + 340 * random(), -60 + 130 * random()],
    turnDeg: 360 * random(),
    shift: [100 * random(), 100 * random()],
  });
  const radius = 7 + 18 * random();
  const outline = blob(random, [0, 0], radius, 24 + Math.floor(160 * random()), 0.5);
  pen.lawn(outline);
  const spot = (): Xy => {
    const angle = 2 * Math.PI * random();
    const r = radius * Math.sqrt(random());
    return [r * Math.cos(angle), r * Math.sin(angle)];
  };
  const islands = Math.floor(7 * random());
  for (let i = 0; i < islands; i++) {
    const size = 0.4 + 2 * random();
    const at = spot();
    const ring = blob(random, at, size, 8 + Math.floor(40 * random()), 0.4);
    const sort = oneKind ? "bed" : pick(["bed", "bed", "pond", "hut", "gravel"] as const);
    const name = `${sort} ${i}`;
    if (sort === "bed") pen.bed(ring, name);
    else if (sort === "pond") pen.thing(ring, { role: "water", name }, "loop", SETIN_M.water);
    else if (sort === "hut") pen.thing(ring, { role: "building", name }, "firm", SETIN_M.wall);
    else pen.thing(ring, { role: "gravel", name });
  }
  if (oneKind) return pen.drawn;
  const trees = Math.floor(6 * random());
  for (let i = 0; i < trees; i++) {
    const at = spot();
    if (!inside(at, outline)) continue;
    const diameter = 0.15 + 0.6 * random();
    const soil = random() < 0.4 ? diameter / 2 + 0.2 + 0.5 * random() : undefined;
    pen.point(at, {
      role: "tree",
      diameter_m: diameter,
      name: `Tree ${i}`,
      ...(soil ? { soil_radius_m: soil } : {}),
    });
    pen.tell({
      name: `Tree ${i}`,
      contact: soil ? "loop" : "firm",
      setinM: SETIN_M.open,
      polygons: [[pen.ring(disc(at, soil ?? diameter / 2, 180))]],
    });
  }
  if (random() < 0.3) {
    const half = 0.4 + 0.5 * random();
    const off = radius * (random() - 0.5);
    const path: Xy[] = [
      [-2 * radius, off - half],
      [2 * radius, off - half],
      [2 * radius, off + half],
      [-2 * radius, off + half],
    ];
    if (random() < 0.5) pen.thing(path, { role: "gravel", name: "Path" });
    else pen.thing(path, { role: "paving", edge: "flush", name: "Path" }, "flush", SETIN_M.flush);
  }
  if (random() < 0.4) {
    const from = Math.floor(outline.length * random());
    const count = 3 + Math.floor(0.3 * outline.length * random());
    const line = Array.from({ length: count }, (_, k) => outline[(from + k) % outline.length]!);
    pen.edge(line, pick(["fence", "wall", "hedge", "flush", "water", "kerb"] as const));
  }
  return pen.drawn;
}
