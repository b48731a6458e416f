import type { Finding } from "../../model/finding.ts";
import type { PointM } from "../../model/geometry.ts";
import type { Plan } from "../../model/plan.ts";
import type { PlanOnGround } from "../../model/terrain.ts";

/** What a fitter should know of the wire on the ground. */
export function groundFindings(
  plan: Plan,
  ground: PlanOnGround,
  unknownAtM: PointM | undefined,
): Finding[] {
  return [
    ...withoutHeight(ground, unknownAtM),
    ...tooLong(plan, ground),
    ...plan.loops.flatMap(({ name }) => [
      ...tooSteep(name, plan, ground),
      ...fallsAway(name, plan, ground),
    ]),
  ];
}

function withoutHeight({ from, loops }: PlanOnGround, atM: PointM | undefined): Finding[] {
  const unknownM = loops.reduce((sum, { wire }) => sum + wire.unknownM, 0);
  if (!atM) return [];
  return [
    {
      code: "TERRAIN_INCOMPLETE",
      severity: "warning",
      file: from,
      message: `${from} has no heights under ${unknownM.toFixed(1)} m of the wire: there its length is flat, and nothing is said of the slope.`,
      remedy: "Give heights of the whole site, or buy wire for a slope there.",
      atM,
    },
  ];
}

function tooSteep(loop: string, { profile }: Plan, { steep }: PlanOnGround): Finding[] {
  const patches = steep.filter((patch) => patch.loop === loop);
  if (patches.length === 0) return [];
  const sizeM2 = patches.reduce((sum, patch) => sum + patch.areaM2, 0);
  const worst = patches.reduce((a, b) => (b.slopePercent > a.slopePercent ? b : a));
  return [
    {
      code: "GROUND_STEEP",
      severity: "warning",
      message: `${sizeM2.toFixed(1)} m² of the lawn of loop ${loop} are steeper than the ${profile.terrain.slopeMaxPercent} % that the machine climbs${patches.length > 1 ? `, in ${patches.length} patches` : ""}; the steepest place has ${worst.slopePercent.toFixed(0)} %. The wire does not shut them out.`,
      remedy:
        'Plan with "steep": "shut" in the site file to shut it out, or take a machine for such slopes.',
      atM: worst.atM,
    },
  ];
}

function fallsAway(loop: string, { profile }: Plan, { falls }: PlanOnGround): Finding[] {
  const own = falls.filter((fall) => fall.loop === loop);
  if (own.length === 0) return [];
  const lengthM = own.reduce((sum, fall) => sum + fall.lengthM, 0);
  const worst = own.reduce((a, b) => (b.fallPercent > a.fallPercent ? b : a));
  return [
    {
      code: "EDGE_FALLS_AWAY",
      severity: "warning",
      message: `Along ${lengthM.toFixed(1)} m of the wire of loop ${loop}${own.length > 1 ? `, in ${own.length} stretches,` : ""} the ground falls away from the lawn by more than ${profile.terrain.edgeSlopeMaxPercent} %, by ${worst.fallPercent.toFixed(0)} % at most: there a machine that slips does not stop at the wire.`,
      remedy:
        "Put a fence, a kerb or a wall there, or move the wire up to level ground, e.g. with an edge line of kind drop.",
      atM: worst.atM,
    },
  ];
}

/** Loops that are short enough on the map but not on the ground. */
function tooLong({ loops, profile }: Plan, ground: PlanOnGround): Finding[] {
  const mostM = profile.loop.lengthMaxM;
  return loops.flatMap((loop, i) => {
    const { groundM } = ground.loops[i]!.wire;
    if (loop.lengthM > mostM || groundM <= mostM) return [];
    return {
      code: "LOOP_TOO_LONG_ON_GROUND",
      severity: "warning" as const,
      message: `Loop ${loop.name} is ${loop.lengthM.toFixed(1)} m long on the map but ${groundM.toFixed(1)} m on the ground; a station drives ${mostM} m.`,
      remedy: "Ask the machine's maker, or divide the lawn with a second station.",
      atM: loop.station.atM,
    };
  });
}
