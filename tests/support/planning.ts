/** Plans as the command line makes them, in process: same functions, same written text. */
import type { Feature, FeatureCollection, Geometry } from "geojson";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import {
  builtInProfile,
  type Finding,
  type InputFile,
  type PlanOptions,
  type Problem,
  type Profile,
  type ProfileName,
  planFiles,
  planInputs,
  readSite,
  type Site,
} from "../../src/index.ts";
import { judge } from "./judge/judge.ts";
import type { Limits, SiteTruth, Verdict } from "./judge/types.ts";
import type { Drawn } from "./sites.ts";

export interface WrittenSummary {
  readonly site: {
    readonly area_m2: number;
    readonly crs: string;
    readonly origin: [number, number];
  };
  readonly loops: readonly {
    loop: string;
    length_m: number;
    pegs: number;
    exclusion_loops: number;
    paired_run_m: number;
  }[];
  readonly totals: {
    wire_m: number;
    pegs: number;
    mown_m2: number;
    hand_trim_m2: number;
    cut_off_m2: number;
  };
  readonly passages: readonly {
    number: number;
    width_m: number;
    wire_width_m: number;
    length_m: number;
    verdict: string;
    beyond_m2: number;
    at: [number, number];
  }[];
  readonly findings: readonly { code: string; severity: string; message: string }[];
}

/** What was written, read back from its text. */
export interface Written {
  readonly plan: FeatureCollection<Geometry | null>;
  readonly summary: WrittenSummary & Readonly<Record<string, unknown>>;
  readonly texts: readonly string[];
}

export type Attempt =
  | ({ readonly ok: true } & Written)
  | { readonly ok: false; readonly problem: Problem; readonly findings: readonly Finding[] };

export type Options = Omit<PlanOptions, "profile"> & { readonly profile?: ProfileName };

function optionsOf({ profile, ...rest }: Options): PlanOptions {
  return {
    registry: epsgRegistry,
    ...rest,
    ...(profile ? { profile: builtInProfile(profile) } : {}),
  };
}

export async function attempt(
  inputs: readonly InputFile[],
  options: Options = {},
): Promise<Attempt> {
  const planned = await planInputs(inputs, optionsOf(options));
  if (!planned.ok) return planned;
  const texts = planFiles(planned.value).files.map((file) => file.text);
  return { ok: true, plan: JSON.parse(texts[0]!), summary: JSON.parse(texts[1]!), texts };
}

/** Plans inputs that must be plannable. */
export async function plan(inputs: readonly InputFile[], options: Options = {}): Promise<Written> {
  const made = await attempt(inputs, options);
  if (made.ok) return made;
  throw new Error(`${made.problem.code}: ${made.problem.message}`);
}

export function geojsonInput(features: readonly Feature[], name = "site.geojson"): InputFile {
  return {
    name,
    bytes: new TextEncoder().encode(JSON.stringify({ type: "FeatureCollection", features })),
  };
}

export async function planDrawn(drawn: Drawn, options: Options = {}): Promise<Written> {
  return plan([geojsonInput(drawn.features)], options);
}

export function judgeWritten(
  { plan, summary }: Written,
  truth?: SiteTruth,
  limits: Partial<Limits> = {},
): Verdict {
  return judge({ plan, summary, limits, ...(truth ? { truth } : {}) });
}

/**
 * What the program understood of a site's files (roles, widths, repairs), as truth for the judge of
 * the wire: for real plots, where nobody else says what is lawn.
 */
export async function truthAsRead(
  inputs: readonly InputFile[],
  options: Options = {},
  machine?: Profile,
): Promise<SiteTruth> {
  const all = { ...optionsOf(options), ...(machine ? { profile: machine } : {}) };
  const read = await readSite(inputs, all);
  if (!read.ok) throw new Error(read.problem.message);
  return truthOfSite(read.value, all.profile ?? builtInProfile());
}

function truthOfSite(site: Site, profile: ReturnType<typeof builtInProfile>): SiteTruth {
  const line = (flat: Float64Array): [number, number][] =>
    Array.from({ length: flat.length / 2 }, (_, i) => {
      const [lon, lat] = site.grid.inverse([flat[2 * i]!, flat[2 * i + 1]!]);
      return [lon, lat];
    });
  const ring = (flat: Float64Array) => line(Float64Array.from([...flat, flat[0]!, flat[1]!]));
  const { setinM } = profile;
  return {
    lawns: site.lawns.flatMap((lawn) =>
      (lawn.ownEdges ?? [lawn]).map((own) => ({
        polygon: [own.area.shell, ...own.area.holes].map(ring),
        setinM: own.setinM ?? lawn.setinM ?? setinM[own.edgeKind ?? "open"],
      })),
    ),
    things: site.things.map((thing) => ({
      name: thing.name,
      contact: thing.contact,
      setinM: thing.setinM ?? setinM[thing.edgeKind],
      polygons: thing.areas.map((area) => [area.shell, ...area.holes].map(ring)),
    })),
    edgeLines: site.edgeLines.map((edge) => ({
      setinM: edge.setinM ?? setinM[edge.kind],
      line: line(edge.line),
    })),
    openSetinM: setinM.open,
  };
}
