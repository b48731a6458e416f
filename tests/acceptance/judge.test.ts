/** The judge can fail: each deliberate fault in a plan that holds is caught under its own rule. */
import type { Feature, FeatureCollection, Geometry, LineString, Position } from "geojson";
import { beforeAll, describe, expect, it } from "vitest";
import { judge } from "../support/judge/judge.ts";
import { planeAt } from "../support/plane.ts";
import { planDrawn, type Written } from "../support/planning.ts";
import { type Drawn, disc, Pen, rectangle, SOMEWHERE } from "../support/sites.ts";

const drawn: Drawn = new Pen({ turnDeg: 20 })
  .lawn(rectangle(30, 20))
  .bed(disc([15, 10], 2), "Bed")
  .thing(rectangle(2, 2, [5, 5]), { role: "building", name: "Hut" }, "firm", 0.35).drawn;

let written: Written;
beforeAll(async () => {
  written = await planDrawn(drawn);
});

type Plan = FeatureCollection<Geometry | null>;

function rulesBroken(change: (plan: Plan) => void): Set<string> {
  const plan = structuredClone(written.plan) as Plan;
  change(plan);
  const { breaches } = judge({ plan, summary: written.summary, truth: drawn.truth });
  return new Set(breaches.map((breach) => breach.rule));
}

function ofKind(plan: Plan, kind: string): Feature<Geometry | null>[] {
  return plan.features.filter((feature) => feature.properties?.kind === kind);
}

function wireOf(plan: Plan): Position[] {
  return (ofKind(plan, "boundary-wire")[0]!.geometry as LineString).coordinates;
}

/** Moves a position by metres east and north. */
function shift(at: Position, east: number, north: number): Position {
  return planeAt(at).toDegrees([east, north]);
}

/** A vertex of the wire half way along a straight stretch of the outer edge. */
function straightVertex(plan: Plan): number {
  const straight = ofKind(plan, "peg").filter((peg) => peg.properties?.on === "straight")[5]!;
  const [lon, lat] = (straight.geometry as { coordinates: Position }).coordinates;
  return wireOf(plan).findIndex((at) => at[0] === lon && at[1] === lat);
}

/** Metres per unit square to the wire at a vertex, to its right: outwards. */
function outward(plan: Plan, vertex: number): [number, number] {
  const wire = wireOf(plan);
  const [x, y] = planeAt(wire[vertex]!).toPlane(wire[vertex + 1]!);
  return [y / Math.hypot(x, y), -x / Math.hypot(x, y)];
}

function pairVertex(plan: Plan): number {
  const pegs = ofKind(plan, "peg").filter((peg) => peg.properties?.on === "pair");
  const middle = (pegs[3]!.geometry as { coordinates: Position }).coordinates;
  const plane = planeAt(middle);
  return wireOf(plan).findIndex((at) => Math.hypot(...plane.toPlane(at)) < 0.01);
}

describe("the judge", () => {
  it("finds nothing in the plan as it was made", () => {
    expect(
      judge({ plan: written.plan, summary: written.summary, truth: drawn.truth }),
    ).toMatchObject({ breaches: [], figures: { maxSpanM: expect.closeTo(1, 0) } });
    expect(rulesBroken(() => {})).toEqual(new Set());
  });

  it.each<[string, string[], (plan: Plan) => void]>([
    [
      "a vertex 5 cm outward",
      ["set-in", "vertex-without-peg"],
      (plan) => {
        const v = straightVertex(plan);
        const [x, y] = outward(plan, v);
        wireOf(plan)[v] = shift(wireOf(plan)[v]!, 0.05 * x, 0.05 * y);
      },
    ],
    [
      "a vertex and its peg 12 mm outward: only the set-in is broken",
      ["set-in"],
      (plan) => {
        const v = straightVertex(plan);
        const [lon, lat] = wireOf(plan)[v]!;
        const [x, y] = outward(plan, v);
        const moved = shift([lon!, lat!], 0.012 * x, 0.012 * y);
        wireOf(plan)[v] = moved;
        for (const peg of ofKind(plan, "peg")) {
          const at = (peg.geometry as { coordinates: Position }).coordinates;
          if (at[0] === lon && at[1] === lat) peg.geometry = { type: "Point", coordinates: moved };
        }
      },
    ],
    [
      "a peg missing",
      ["vertex-without-peg", "peg-number"],
      (plan) => {
        plan.features.splice(plan.features.indexOf(ofKind(plan, "peg")[7]!), 1);
      },
    ],
    [
      "a peg and its vertex missing",
      ["span-too-long", "peg-number"],
      (plan) => {
        const v = straightVertex(plan);
        const [lon, lat] = wireOf(plan)[v]!;
        const peg = ofKind(plan, "peg").find((one) => {
          const at = (one.geometry as { coordinates: Position }).coordinates;
          return at[0] === lon && at[1] === lat;
        })!;
        plan.features.splice(plan.features.indexOf(peg), 1);
        wireOf(plan).splice(v, 1);
      },
    ],
    ["the wire reversed", ["not-anticlockwise", "chainage"], (plan) => wireOf(plan).reverse()],
    [
      "two vertices changed over",
      ["not-simple"],
      (plan) => {
        const wire = wireOf(plan);
        const v = straightVertex(plan);
        [wire[v], wire[v + 3]] = [wire[v + 3]!, wire[v]!];
      },
    ],
    ["the wire open", ["not-closed"], (plan) => wireOf(plan).pop()],
    [
      "one wire of a pair shifted by 4 mm",
      ["pair-gap"],
      (plan) => {
        const v = pairVertex(plan);
        const [x, y] = outward(plan, v);
        wireOf(plan)[v] = shift(wireOf(plan)[v]!, -0.004 * x, -0.004 * y);
      },
    ],
    [
      "one wire of a pair laid over the other",
      ["pair-gap", "not-simple"],
      (plan) => {
        const v = pairVertex(plan);
        const [x, y] = outward(plan, v);
        wireOf(plan)[v] = shift(wireOf(plan)[v]!, 0.015 * x, 0.015 * y);
      },
    ],
    [
      "a length 5 mm wrong",
      ["length"],
      (plan) => {
        ofKind(plan, "boundary-wire")[0]!.properties!.length_m += 0.005;
      },
    ],
    [
      "a chainage 2 mm wrong",
      ["chainage"],
      (plan) => {
        ofKind(plan, "peg")[9]!.properties!.chainage_m += 0.002;
      },
    ],
    [
      "a second chainage left out",
      ["chainage-count"],
      (plan) => {
        const peg = ofKind(plan, "peg").find((one) => one.properties?.second_chainage_m);
        delete peg!.properties!.second_chainage_m;
      },
    ],
    [
      "a peg under another's number",
      ["peg-number"],
      (plan) => {
        ofKind(plan, "peg")[4]!.properties!.number = "A99";
      },
    ],
    [
      "the station elsewhere",
      ["station-off-wire"],
      (plan) => {
        ofKind(plan, "station")[0]!.geometry = { type: "Point", coordinates: wireOf(plan)[6]! };
      },
    ],
    [
      "no island in the wire",
      ["exclusion-off-wire", "exclusion-inside-wire", "thing-inside-wire"],
      (plan) => {
        const wire = wireOf(plan);
        const kept = wire.filter((at) => {
          const [x, y] = planeAt(SOMEWHERE).toPlane(at);
          const turn = (-20 * Math.PI) / 180;
          const [u, w] = [
            Math.cos(turn) * x - Math.sin(turn) * y,
            Math.sin(turn) * x + Math.cos(turn) * y,
          ];
          return Math.min(u, 30 - u, w, 20 - w) < 0.31;
        });
        wire.splice(0, wire.length, ...kept);
      },
    ],
    [
      "mown area understated by 1 m²",
      ["area-size", "areas-do-not-add-up"],
      (plan) => {
        ofKind(plan, "mown-area")[0]!.properties!.area_m2 -= 1;
      },
    ],
    [
      "the hand-trim strip not drawn",
      ["ground-area", "areas-do-not-add-up"],
      (plan) => {
        plan.features.splice(plan.features.indexOf(ofKind(plan, "hand-trim")[0]!), 1);
      },
    ],
    [
      "a bow-tie among the areas",
      ["invalid-polygon"],
      (plan) => {
        const exclusion = ofKind(plan, "exclusion-loop")[0]!.geometry as {
          coordinates: Position[][];
        };
        const ring = exclusion.coordinates[0]!;
        [ring[3], ring[5]] = [ring[5]!, ring[3]!];
      },
    ],
    [
      "an exterior ring wound clockwise",
      ["ring-winding"],
      (plan) => {
        const exclusion = ofKind(plan, "exclusion-loop")[0]!.geometry as {
          coordinates: Position[][];
        };
        exclusion.coordinates[0]!.reverse();
      },
    ],
    ["no wire at all", ["no-wire"], (plan) => plan.features.splice(0)],
  ])("catches %s", (_, rules, change) => {
    expect([...rulesBroken(change)]).toEqual(expect.arrayContaining(rules));
  });

  it("catches a wire that runs into a firm thing inside it", () => {
    const hut = drawn.truth.things.map((thing) =>
      thing.name === "Hut" ? { ...thing, polygons: drawn.truth.things[0]!.polygons } : thing,
    );
    const { breaches } = judge({ plan: written.plan, truth: { ...drawn.truth, things: hut } });
    expect(breaches.length).toBeGreaterThan(0);
  });

  it("catches a wire off the lawn and a thing shut in", () => {
    const lawns = [{ polygon: [new Pen({ turnDeg: 20 }).ring(rectangle(30, 15))] }];
    const extra = { name: "Pond", contact: "loop", setinM: 1 } as const;
    const pond = { ...extra, polygons: [[new Pen({ turnDeg: 20 }).ring(disc([25, 4], 0.5))]] };
    const { breaches } = judge({
      plan: written.plan,
      truth: { ...drawn.truth, lawns, things: [...drawn.truth.things, pond] },
    });
    const rules = breaches.map((breach) => breach.rule);
    expect(rules).toContain("off-the-lawn");
    expect(rules).toContain("thing-inside-wire");
  });
});
