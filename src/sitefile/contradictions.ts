import { parseCrsText } from "./crs-text.ts";
import type { Mistake } from "./json-text.ts";
import type { SiteFile } from "./site-file.ts";

type Clash = Omit<Mistake, "line">;

/** What the schema cannot say: keys that need or exclude each other, places that are none. */
export function contradictions(file: SiteFile): Clash[] {
  return [
    ...crsClashes(file),
    ...(file.roles ?? []).flatMap((rule, i) => {
      const path = ["roles", i];
      const says = rule.role !== undefined || Object.keys(rule.set ?? {}).length > 0;
      return [
        ...(says ? [] : [{ path, message: "needs a role, or attributes in set" }]),
        ...fieldClashes(rule, path),
      ];
    }),
    ...featureClashes(file.features ?? []),
    ...(file.edges ?? []).flatMap((rule, i) => edgeClashes(rule, ["edges", i])),
    ...(file.run_ground ?? []).flatMap((rule, i) => groundClashes(rule, ["run_ground", i])),
    ...lawnClashes(file.lawns),
    ...spotClashes(file),
    ...(file.prices?.items ?? []).flatMap(({ per, reel_m }, i) =>
      reel_m === undefined || per === "reel"
        ? []
        : [{ path: ["prices", "items", i, "reel_m"], message: 'goes with "per": "reel" alone' }],
    ),
  ];
}

/** Each names one feature, says something of it, and no two name the same. */
function featureClashes(rules: NonNullable<SiteFile["features"]>): Clash[] {
  const first = new Map<string, number>();
  return rules.flatMap((rule, i): Clash[] => {
    const path = ["features", i];
    const { file, layer, number, id, crs, ...says } = rule;
    const clashes: Clash[] = [];
    if ((number === undefined) === (id === undefined)) {
      const found = number === undefined ? "none" : "both";
      clashes.push({ path, message: `needs one of number and id, found ${found}` });
    }
    const said = Object.keys(says).filter((key) => says[key as keyof typeof says] !== undefined);
    if (said.length === 0) {
      clashes.push({ path, message: "needs role, set, move_m, geometry or remove" });
    }
    if (says.remove && said.length > 1) {
      const other = said.find((key) => key !== "remove")!;
      clashes.push({ path: [...path, other], message: "goes without remove" });
    }
    if (crs !== undefined && !says.geometry) {
      clashes.push({ path: [...path, "crs"], message: "goes with geometry only" });
    }
    const key = JSON.stringify([file, layer?.trim().toLowerCase(), number, id?.toString()]);
    const earlier = first.get(key);
    if (earlier === undefined) first.set(key, i);
    else clashes.push({ path, message: `names the same feature as features[${earlier}]` });
    return clashes;
  });
}

interface FieldKeys {
  readonly field?: string | undefined;
  readonly is?: unknown;
  readonly at_least?: number | undefined;
  readonly at_most?: number | undefined;
}

function fieldClashes(one: FieldKeys, path: Clash["path"]): Clash[] {
  if (one.field !== undefined) return [];
  return (["is", "at_least", "at_most"] as const)
    .filter((key) => one[key] !== undefined)
    .map((key) => ({ path: [...path, key], message: "needs field beside it", near: "field" }));
}

function edgeClashes(rule: NonNullable<SiteFile["edges"]>[number], path: Clash["path"]): Clash[] {
  const given = (["layer", "line", "beside"] as const).filter((key) => rule[key] !== undefined);
  const clashes: Clash[] = [];
  if (given.length !== 1) {
    const found = given.length === 0 ? "none" : given.join(" and ");
    clashes.push({ path, message: `needs one of layer, line and beside, found ${found}` });
  }
  if (rule.crs !== undefined && rule.line === undefined) {
    clashes.push({ path: [...path, "crs"], message: "goes with line only" });
  }
  if (rule.setin_m !== undefined && rule.beside !== undefined) {
    const near = `setin_m.roles.${rule.beside}`;
    clashes.push({ path: [...path, "setin_m"], message: "goes with layer or line only", near });
  }
  return clashes;
}

function groundClashes(
  rule: NonNullable<SiteFile["run_ground"]>[number],
  path: Clash["path"],
): Clash[] {
  const where = (["layer", "area"] as const).filter((key) => rule[key] !== undefined);
  const what = (["wire", "run_cost", "slope_percent"] as const).filter(
    (key) => rule[key] !== undefined,
  );
  const clashes: Clash[] = [];
  if (where.length !== 1) {
    const found = where.length === 0 ? "none" : where.join(" and ");
    clashes.push({ path, message: `needs one of layer and area, found ${found}` });
  }
  if (what.length === 0) {
    clashes.push({ path, message: "needs wire, run_cost or slope_percent" });
  }
  for (const key of ["crs", "name"] as const) {
    if (rule[key] !== undefined && rule.area === undefined) {
      clashes.push({ path: [...path, key], message: "goes with area only" });
    }
  }
  return clashes;
}

function lawnClashes(lawns: SiteFile["lawns"]): Clash[] {
  if (lawns === undefined || lawns === "all" || Array.isArray(lawns)) return [];
  const clashes = fieldClashes(lawns, ["lawns"]);
  const { inside } = lawns;
  if (typeof inside === "object" && !isPolygon(inside)) {
    const message = `expected the coordinates of a GeoJSON ${inside.type}: rings of at least four positions, in degrees`;
    clashes.push({ path: ["lawns", "inside", "coordinates"], message });
  }
  return clashes;
}

function isPolygon({ type, coordinates }: { type: string; coordinates: unknown }): boolean {
  const isPosition = (at: unknown) =>
    Array.isArray(at) && at.length >= 2 && isDegrees(at[0], at[1]);
  const isRing = (ring: unknown) =>
    Array.isArray(ring) && ring.length >= 4 && ring.every(isPosition);
  const isShape = (rings: unknown) =>
    Array.isArray(rings) && rings.length > 0 && rings.every(isRing);
  return type === "Polygon"
    ? isShape(coordinates)
    : Array.isArray(coordinates) && coordinates.length > 0 && coordinates.every(isShape);
}

function isDegrees(x: unknown, y: unknown): boolean {
  return (
    Number.isFinite(x) &&
    Number.isFinite(y) &&
    Math.abs(x as number) <= 180 &&
    Math.abs(y as number) <= 90
  );
}

/** Everything in the file that names a system, with its path. */
function crsClashes(file: SiteFile): Clash[] {
  const named: [Clash["path"], string | number | undefined][] = [
    [["crs"], file.crs],
    ...(file.inputs ?? []).map((input, i): [Clash["path"], string | number | undefined] => [
      ["inputs", i, "crs"],
      typeof input === "object" ? input.crs : undefined,
    ]),
    ...(file.edges ?? []).map((rule, i): [Clash["path"], string | number | undefined] => [
      ["edges", i, "crs"],
      rule.crs,
    ]),
    ...(file.run_ground ?? []).map((rule, i): [Clash["path"], string | number | undefined] => [
      ["run_ground", i, "crs"],
      rule.crs,
    ]),
    ...drawnOf(file).map(({ path, one }): [Clash["path"], string | number | undefined] => [
      [...path, "crs"],
      one.crs,
    ]),
    ...spotsOf(file).map(({ path, spot }): [Clash["path"], string | number | undefined] => [
      [...path, "crs"],
      spot.crs,
    ]),
  ];
  return named.flatMap(([path, crs]) =>
    crs === undefined || parseCrsText(crs) !== undefined
      ? []
      : [{ path, message: `expected EPSG:N, a PROJ string or WKT, found ${JSON.stringify(crs)}` }],
  );
}

type Drawn = NonNullable<SiteFile["things"]>[number]["geometry"];

/** Everything that is drawn as GeoJSON, with its path. */
function drawnOf(file: SiteFile) {
  return (["features", "things"] as const).flatMap((key) =>
    (file[key] ?? []).map((one, i) => ({ path: [key, i] as Clash["path"], one })),
  );
}

/** All positions of a geometry. */
function positionsOf({ coordinates }: Drawn): [number, number][] {
  const visit = (nested: unknown): [number, number][] =>
    Array.isArray(nested) && typeof nested[0] === "number"
      ? [nested as [number, number]]
      : (nested as unknown[]).flatMap(visit);
  return visit(coordinates);
}

type SpotKeys = { readonly at: readonly number[]; readonly crs?: string | number | undefined };

function spotsOf(file: SiteFile): { path: Clash["path"]; spot: SpotKeys }[] {
  const spots = (["station", "outlet"] as const).flatMap((key) => {
    const given = file[key];
    if (given === undefined) return [];
    if (!Array.isArray(given)) return [{ path: [key], spot: given }];
    return given.map((spot, i) => ({ path: [key, i], spot }));
  });
  const { lawns } = file;
  const near = typeof lawns === "object" && !Array.isArray(lawns) ? lawns.nearest : undefined;
  return near ? [...spots, { path: ["lawns", "nearest"], spot: near }] : spots;
}

/** Coordinates without a system of their own are degrees, or those of the site file's crs. */
function spotClashes(file: SiteFile): Clash[] {
  const places = [
    ...drawnOf(file).flatMap(({ path, one: { geometry, crs } }) =>
      geometry
        ? [{ path: [...path, "geometry", "coordinates"], at: positionsOf(geometry), crs }]
        : [],
    ),
    ...spotsOf(file).map(({ path, spot }) => ({
      path: [...path, "at"],
      at: [spot.at],
      crs: spot.crs,
    })),
    ...(file.edges ?? []).flatMap((rule, i) =>
      rule.line ? [{ path: ["edges", i, "line"], at: rule.line, crs: rule.crs }] : [],
    ),
    ...(file.run_ground ?? []).flatMap((rule, i) =>
      rule.area ? [{ path: ["run_ground", i, "area"], at: rule.area, crs: rule.crs }] : [],
    ),
  ];
  return places.flatMap(({ path, at, crs }) =>
    crs !== undefined || file.crs !== undefined || at.every(([x, y]) => isDegrees(x, y))
      ? []
      : [{ path, message: "fits no degrees; expected longitude and latitude, or crs beside it" }],
  );
}
