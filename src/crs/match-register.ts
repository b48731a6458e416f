import type { EpsgRecord, EpsgRegistry } from "./registry.ts";
import type { LonLatExtent } from "./site-grid.ts";
import { plainName } from "./wkt-methods.ts";

/** Parameters that tell one projection from another, with the value that stands for a missing one. */
const KEYS: readonly (readonly [string, number])[] = [
  ["lat_0", 0],
  ["lon_0", 0],
  ["lonc", 0],
  ["lat_1", 0],
  ["lat_2", 0],
  ["lat_ts", 0],
  ["alpha", 0],
  ["k_0", 1],
  ["x_0", 0],
  ["y_0", 0],
];

/**
 * The same text for PROJ strings of one projection, however they are written; the ellipsoid and the
 * datum are left out, since zones are shared by the datums of one country.
 */
export function projectionKey(definition: string): string | undefined {
  const words = new Map(
    [...definition.matchAll(/\+(\w+)(?:=(\S+))?/g)].map(([, key, value]) => [key!, value ?? ""]),
  );
  const proj = words.get("proj");
  if (proj === undefined || proj === "longlat") return undefined;
  if (words.has("k")) words.set("k_0", words.get("k")!);
  if (proj === "utm") {
    const isSouth = words.has("south");
    const lon = 6 * Number(words.get("zone")) - 183;
    return projectionKey(
      `+proj=tmerc +lon_0=${lon} +k_0=0.9996 +x_0=500000 +y_0=${isSouth ? 10_000_000 : 0}`,
    );
  }
  if (proj === "lcc" && !words.has("lat_2")) words.set("lat_2", words.get("lat_1") ?? "0");
  const numbers = KEYS.map(([key, usual]) => {
    const value = Number(words.get(key) ?? usual);
    // 1e-5 of a degree and a centimetre: writers round.
    const decimals = /^[xy]_0$/.test(key) ? 2 : key === "k_0" ? 8 : 5;
    return Number.isFinite(value) ? String(Number(value.toFixed(decimals))) : "?";
  });
  return [proj, ...numbers].join(" ");
}

interface Index {
  readonly byName: Map<string, EpsgRecord[]>;
  readonly byKey: Map<string, EpsgRecord[]>;
}

const indexes = new WeakMap<EpsgRegistry, Index>();

function push(map: Map<string, EpsgRecord[]>, key: string | undefined, record: EpsgRecord): void {
  if (key === undefined) return;
  const held = map.get(key);
  if (held) held.push(record);
  else map.set(key, [record]);
}

function indexOf(registry: EpsgRegistry): Index {
  const known = indexes.get(registry);
  if (known !== undefined) return known;
  const index: Index = { byName: new Map(), byKey: new Map() };
  for (const record of registry.all?.() ?? []) {
    if (!record.bbox || !/PROJCRS/.test(record.kind ?? "")) continue;
    push(index.byName, plainName(record.name), record);
    if (record.proj4 !== null) push(index.byKey, projectionKey(record.proj4), record);
  }
  indexes.set(registry, index);
  return index;
}

/**
 * Area of use of a system that has no code: that of the registered systems of the same name, else of
 * the same projection, all together. Undefined where none is alike, or they lie round the antimeridian.
 */
export function areaLike(
  registry: EpsgRegistry,
  definition: string,
  name: string,
): LonLatExtent | undefined {
  if (registry.all === undefined) return undefined;
  const key = projectionKey(definition);
  if (key === undefined) return undefined;
  const { byName, byKey } = indexOf(registry);
  const alike = byName.get(plainName(name)) ?? byKey.get(key) ?? [];
  registry.noted?.(alike);
  const boxes = alike.map(({ bbox }) => bbox!);
  if (boxes.length === 0 || boxes.some(([, west, , east]) => west > east)) return undefined;
  return {
    north: Math.max(...boxes.map(([north]) => north)),
    west: Math.min(...boxes.map(([, west]) => west)),
    south: Math.min(...boxes.map(([, , south]) => south)),
    east: Math.max(...boxes.map(([, , , east]) => east)),
  };
}
