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
  return [...withoutHeight(ground, unknownAtM), ...tooLong(plan, ground)];
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
