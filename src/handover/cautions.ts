import type { Plan } from "../model/plan.ts";
import type { Site } from "../model/site.ts";
import type { PlanOnGround } from "../model/terrain.ts";
import type { Quantities } from "./quantities.ts";

/** Something to mind on site, with a stable code. */
export interface Caution {
  readonly code: string;
  readonly text: string;
}

/** One caution and when it applies. Common practice unless the text names a standard. */
interface CautionRule extends Caution {
  applies(
    site: Site,
    plan: Plan,
    quantities: Quantities,
    ground: PlanOnGround | undefined,
  ): boolean;
}

const always = () => true;

const RULES = [
  {
    code: "CHECK_ON_SITE",
    text: "A plan is as good as the outline it was made from: check the lengths on site before you cut wire.",
    applies: always,
  },
  {
    code: "BURIED_SERVICES",
    text: "Locate buried cables, gas, water and irrigation before you drive pegs, trench or screw the station down.",
    applies: always,
  },
  {
    code: "SUPPLY_OFF",
    text: "Connect and disconnect the wire with the supply off. Mains work, outdoor sockets and fixed wiring are for licensed persons under local codes; an outdoor socket has 30 mA residual-current protection (IEC 60364-4-41).",
    applies: always,
  },
  {
    code: "OPEN_WATER",
    text: "There is open water on this site. A wire can fail: water needs a fence, a kerb or a wall between it and the machine.",
    applies: hasWater,
  },
  {
    code: "DROP",
    text: "There is a drop on this site. A wire can fail: a step down or steep bank needs a physical barrier.",
    applies: (site) => hasEdgeKind(site, "drop"),
  },
  {
    code: "STEEP_GROUND",
    text: "There is steep ground on this site. On a slope a machine slips, the more so in the wet, and a wire does not hold it: put a physical barrier where the ground falls away, and prove the slopes with the machine before you leave it alone.",
    applies: (site, _plan, _quantities, ground) =>
      site.things.some(({ id }) => id.startsWith("steep-")) ||
      (ground !== undefined && ground.steep.length + ground.falls.length > 0),
  },
  {
    code: "WIRE_ACROSS_PAVING",
    text: "Paving meets the lawn: where wire has to cross it, it lies in a saw cut or a joint, below the surface, never loose on top.",
    applies: (site) => site.things.some((thing) => thing.role === "paving"),
  },
  {
    code: "SEALED_JOINTS",
    text: "Wire is joined on this site, one reel to the next or a guide wire to the loop: use sealed couplers, note on the plan where they lie, and keep the rest of the reel for repairs.",
    applies: (_site, _plan, quantities) => quantities.totals.joints > 0,
  },
  {
    code: "PROVE_THE_STATION",
    text: "The place of the station was chosen by what the plan knows of the site. Check that it is level, shaded at midday, near an outdoor socket and out of sight of the road, and fix it down only when the loop and the docking have been proved.",
    applies: (_, plan) => plan.loops.some((loop) => !loop.station.given),
  },
  {
    code: "BLADES",
    text: "Switch the machine off and wear gloves before you turn it over; keep children and pets away while it works (IEC 60335-2-107).",
    applies: always,
  },
  {
    code: "WILDLIFE",
    text: "Mow by day: night running harms hedgehogs and other wildlife, and many places restrict it.",
    applies: always,
  },
  {
    code: "SURFACE_WIRE",
    text: "Scarifying and aerating cut wire that lies at the surface: mark it before such work.",
    applies: always,
  },
] as const satisfies readonly CautionRule[];

export type CautionCode = (typeof RULES)[number]["code"];

/** All cautions in English by their code, for the catalogue of texts. */
export const CAUTION_TEXTS: Readonly<Record<CautionCode, string>> = Object.fromEntries(
  RULES.map(({ code, text }) => [code, text]),
) as Record<CautionCode, string>;

/** The cautions that apply to this site and plan, in reading order. */
export function cautionsFor(
  site: Site,
  plan: Plan,
  quantities: Quantities,
  ground?: PlanOnGround,
): Caution[] {
  const rules: readonly CautionRule[] = RULES;
  return rules
    .filter((rule) => rule.applies(site, plan, quantities, ground))
    .map(({ code, text }) => ({
      code,
      text,
    }));
}

function hasWater(site: Site): boolean {
  return hasEdgeKind(site, "water") || site.things.some((thing) => thing.role === "water");
}

function hasEdgeKind(site: Site, kind: "water" | "drop"): boolean {
  return (
    site.things.some((thing) => thing.edgeKind === kind) ||
    site.edgeLines.some((edge) => edge.kind === kind) ||
    site.lawns.some(({ edgeKind, ownEdges = [] }) =>
      [{ edgeKind }, ...ownEdges].some((own) => own.edgeKind === kind),
    )
  );
}
