/** The rules that every plan of every sketch must keep, measured by the judges. */
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { type InputFile, planFiles, planInputs } from "../../src/index.ts";
import { judge } from "../support/judge/judge.ts";
import type { Figures } from "../support/judge/types.ts";
import { geojsonInput, truthAsRead, type Written } from "../support/planning.ts";
import { intersectionOf, invalidity, polygonShape } from "../support/topology.ts";
import { type DrawnSketch, drawn, type Sketch } from "./sketch.ts";

/** Problems that a small or crowded site may rightly meet. */
const RIGHTFUL = new Set(["NO_ROOM_FOR_WIRE", "NO_LAWN"]);

export type Planned =
  | { readonly kind: "planned"; readonly written: Written }
  | { readonly kind: "refused"; readonly code: string }
  | { readonly kind: "threw"; readonly what: string };

/** A loop over the profile's limits is what was asked for where it may not be divided, or carries parts. */
function isAsked({ split, parts }: Sketch, code: string): boolean {
  return ["LOOP_OVER_AREA", "LOOP_OVER_LENGTH"].includes(code) && (!split || parts === "carried");
}

/**
 * Plans a sketch as the command line would; what is thrown is a fault, and caught here.
 *
 * @param inputs the sketch written in some other way
 */
export async function planned(sketch: Sketch, inputs?: readonly InputFile[]): Promise<Planned> {
  const { features, profile } = drawn(sketch);
  try {
    const made = await planInputs(inputs ?? [geojsonInput(features)], {
      registry: epsgRegistry,
      profile,
      rules: { plan: { split: sketch.split, ...(sketch.parts ? { parts: sketch.parts } : {}) } },
    });
    if (!made.ok) return { kind: "refused", code: made.problem.code };
    const texts = planFiles(made.value).files.map((file) => file.text);
    const written = { plan: JSON.parse(texts[0]!), summary: JSON.parse(texts[1]!), texts };
    return { kind: "planned", written };
  } catch (error) {
    return {
      kind: "threw",
      what: error instanceof Error ? (error.stack ?? error.message) : String(error),
    };
  }
}

export interface Judged {
  readonly outcome: string;
  /** Rules broken, with place and amount; empty when the plan holds. */
  readonly breaches: readonly string[];
  readonly figures?: Figures;
}

/**
 * Whether what was drawn needs no repair that would move an edge. A hole that reaches over its own
 * outline (which makes that invalid) into another lawn can be read as hole or as lawn.
 */
function plainlyDrawn({ features, truth }: DrawnSketch): boolean {
  const outlines = [...truth.lawns, ...truth.things].flatMap((one) =>
    "polygon" in one ? [one.polygon] : one.polygons,
  );
  if (outlines.some((rings) => invalidity([rings]) !== undefined)) return false;
  const lawns = features.flatMap(({ geometry, properties }) =>
    geometry.type === "Polygon" && properties?.role === "lawn" ? [geometry.coordinates] : [],
  );
  return lawns.every((rings) => {
    if (invalidity([rings]) === undefined) return true;
    const others = lawns
      .filter((other) => other !== rings)
      .map(([shell]) => polygonShape([shell!]));
    return rings
      .slice(1)
      .every((hole) =>
        others.every((other) => intersectionOf(polygonShape([hole]), other).isEmpty()),
      );
  });
}

/** Plans and judges: against what the program read, and for set-ins against what was drawn. */
export async function judged(sketch: Sketch): Promise<Judged> {
  try {
    return await judgedPlan(sketch);
  } catch (error) {
    return { outcome: "judge threw", breaches: [`threw: judge: ${String(error)}`] };
  }
}

async function judgedPlan(sketch: Sketch): Promise<Judged> {
  const plan = await planned(sketch);
  if (plan.kind === "threw") return { outcome: "threw", breaches: [`threw: ${plan.what}`] };
  if (plan.kind === "refused") {
    return {
      outcome: plan.code,
      breaches: RIGHTFUL.has(plan.code) ? [] : [`refused: ${plan.code}`],
    };
  }
  const { written } = plan;
  const asDrawn = drawn(sketch);
  const { features, profile, truth } = asDrawn;
  const limits = { spacingMaxM: profile.pegs.spacingMaxM, pairGapM: profile.wire.pairGapM };
  const breaches: string[] = [];
  const say = (against: string, list: readonly object[]) =>
    breaches.push(...list.map((one) => `${against}: ${JSON.stringify(one)}`));
  const read = await truthAsRead([geojsonInput(features)], {}, profile);
  const verdict = judge({ ...written, truth: read, limits });
  say("as read", verdict.breaches);
  if (plainlyDrawn(asDrawn)) {
    const { breaches: drawnBreaches } = judge({ ...written, truth, limits });
    say(
      "as drawn",
      drawnBreaches.filter(({ rule }) => ["set-in", "thing-inside-wire"].includes(rule)),
    );
  }
  say(
    "said",
    written.summary.findings.filter(
      ({ severity, code }) => severity === "error" && !isAsked(sketch, code),
    ),
  );
  return { outcome: "planned", breaches, figures: verdict.figures };
}
