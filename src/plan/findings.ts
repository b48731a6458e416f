/** What the planner tells the user, one builder a code. Codes are explained in docs/findings.md. */
import { areaM2, interiorPoint } from "../geometry/rings.ts";
import type { Finding } from "../model/finding.ts";
import type { AreaM, PointM } from "../model/geometry.ts";
import type { Passage } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import type { Thing } from "../model/site.ts";
import { costSentences, openingSentences } from "./passage-words.ts";

const m = (value: number, decimals = 2): string => value.toFixed(decimals);

export function passageFinding(passage: Passage, profile: Profile): Finding | undefined {
  if (passage.verdict === "mow") return undefined;
  const { driveMinM } = profile.passage;
  const size = `${m(passage.widthM)} m wide edge to edge, ${m(Math.max(0, passage.wireWidthM))} m between the wires`;
  const beyond = beyondText(passage);
  const shut = passage.verdict === "shut";
  return {
    code: shut ? "PASSAGE_SHUT" : "PASSAGE_DRIVE_ONLY",
    severity: shut ? "warning" : "info",
    message: shut
      ? `Passage ${passage.number} is ${size}: too narrow for the machine, which needs ${m(driveMinM)} m between the wires${beyond}.`
      : `Passage ${passage.number} is ${size}: the machine drives through but hardly mows in it${beyond}.`,
    remedy: [...openingSentences(passage.openings), ...costSentences(passage.cost)].join(" "),
    atM: passage.atM,
  };
}

function beyondText({ beyondM2, islandsBeyond }: Passage): string {
  if (beyondM2 === 0) return "";
  const count = islandsBeyond.length;
  const islands =
    count === 0
      ? ""
      : ` with ${count === 1 ? "an island" : `${count} islands`} (${some(islandsBeyond)})`;
  return `; ${m(beyondM2, 0)} m²${islands} lie beyond`;
}

/** The first few of a list of names. */
function some(names: readonly string[]): string {
  const more = names.length - 5;
  return names.slice(0, 5).join(", ") + (more > 0 ? ` and ${more} more` : "");
}

export function pathCrossed(paths: readonly Thing[], between: readonly AreaM[]): Finding {
  const names = paths.map((path) => path.name).join(", ");
  const largest = [...between].sort((a, b) => areaM2(b) - areaM2(a))[0];
  return {
    code: "PATH_CROSSED",
    severity: "info",
    message: `The flush path between two lawns is crossed (${names}): one loop spans both, and its wire crosses the path.`,
    remedy:
      "Lay the wire across it in a saw cut or a joint. Where the machine cannot or may not cross it, give the path the attribute edge, kerb for instance.",
    ...(largest ? { atM: interiorPoint(largest) } : {}),
    ...(paths.length === 1 ? paths[0]!.source : {}),
  };
}

export function partsFinding(count: number, names: readonly string[], atM: PointM): Finding {
  return {
    code: "PARTS_SEPARATE",
    severity: "warning",
    message: `The machine cannot drive between ${count} parts of the lawn; each has a loop and a station of its own (${names.join(", ")}).`,
    remedy: "Open a passage, buy a station for each part, or carry the machine over.",
    atM,
  };
}

export function partsLeftOut(count: number, lawnM2: number, atM: PointM): Finding {
  return {
    code: "PARTS_LEFT_OUT",
    severity: "warning",
    message: `${count === 1 ? "A part" : `${count} parts`} of the lawn, ${m(lawnM2, 0)} m² inside the wire, cannot be driven to and ${count === 1 ? "is" : "are"} left out, as asked with parts none.`,
    remedy: "Mow it by hand, or plan with parts own or carried; the summary compares the three.",
    atM,
  };
}

export function partCarried(loop: string, atM: PointM): Finding {
  return {
    code: "PART_CARRIED",
    severity: "info",
    message: `A part of the lawn hangs on loop ${loop} by a paired run: the machine is carried over to mow it and carried back to its station.`,
    remedy: "Nothing, or give the part a station of its own with parts own.",
    atM,
  };
}

export function partNotCarried(loop: string, atM: PointM): Finding {
  return {
    code: "PART_NOT_CARRIED",
    severity: "warning",
    message: `Wire for the part of the lawn in loop ${loop} has no way from the main loop over lawn or flush paving: it keeps a loop and a station of its own.`,
    remedy: "Give it a station, or leave it out with parts none.",
    atM,
  };
}

export function partTooSmall(areaM2: number, atM: PointM): Finding {
  return {
    code: "PART_TOO_SMALL",
    severity: "warning",
    message: `A piece of lawn with ${m(areaM2, 1)} m² inside its wire is too small for a loop of its own and is left out.`,
    remedy: "Mow it by hand, or join it to the rest by widening the way to it.",
    atM,
  };
}

export function lawnTooNarrow(areaM2: number, atM: PointM): Finding {
  return {
    code: "LAWN_PIECE_TOO_NARROW",
    severity: "warning",
    message: `A piece of lawn of ${m(areaM2, 1)} m² has no room for a wire or is too narrow for the machine and is left out.`,
    remedy: "Mow it by hand, or choose a smaller machine or smaller set-ins.",
    atM,
  };
}

export function firmJoined(thing: Thing, driveMinM: number, atM: PointM): Finding {
  return {
    code: "FIRM_THING_SHUT_OUT",
    severity: "info",
    message: `The machine cannot pass between ${thing.name} and the wire (less than ${m(driveMinM)} m): the wire goes round it.`,
    remedy: "Nothing, or move it further from the edge and plan again.",
    atM,
    ...thing.source,
  };
}

export function firmBlocksRun(thing: Thing, atM: PointM): Finding {
  return {
    code: "FIRM_THING_IN_RUN",
    severity: "info",
    message: `${thing.name} stands in the way of a paired run and leaves no room beside it: the wire goes round it.`,
    remedy: "Nothing, or move it and plan again.",
    atM,
    ...thing.source,
  };
}

export function stationTight(
  loop: string,
  straightM: number,
  clear: boolean,
  profile: Profile,
  atM: PointM,
): Finding {
  const wants = `${m(profile.station.straightM)} m of straight wire on each side and ${m(profile.station.clearAheadM)} m of clear lawn in front`;
  return {
    code: "STATION_TIGHT",
    severity: "warning",
    message: `The station of loop ${loop} has ${m(straightM)} m of straight wire on its shorter side and ${clear ? "clear" : "not clear"} lawn in front; the profile wants ${wants}.`,
    remedy: "Move the station along the wire, or straighten the edge there.",
    atM,
  };
}

export function stationMoved(loop: string, distanceM: number, atM: PointM): Finding {
  return {
    code: "STATION_MOVED",
    severity: "warning",
    message: `The station given for loop ${loop} is ${m(distanceM)} m off the wire; it is put on the nearest place of the wire.`,
    remedy: "Check the place, or give a point on the set-in line.",
    atM,
  };
}

export function stationUnused(name: string, atM: PointM): Finding {
  return {
    code: "STATION_UNUSED",
    severity: "warning",
    message: `Station ${name} is not used: another station is nearer to the same part of the lawn.`,
    remedy: "Keep one station a part.",
    atM,
  };
}

export function loopTooLong(loop: string, lengthM: number, limitM: number, atM: PointM): Finding {
  return {
    code: "LOOP_TOO_LONG",
    severity: "warning",
    message: `Loop ${loop} has ${m(lengthM, 0)} m of wire; the profile allows ${m(limitM, 0)} m a loop.`,
    remedy: "Divide the lawn, or use a machine whose loop may be longer.",
    atM,
  };
}

export function loopTooLarge(loop: string, areaM2: number, limitM2: number, atM: PointM): Finding {
  return {
    code: "LOOP_TOO_LARGE",
    severity: "warning",
    message: `Loop ${loop} holds ${m(areaM2, 0)} m² of lawn; the profile allows ${m(limitM2, 0)} m² a machine.`,
    remedy: "Divide the lawn between machines, or use a larger one.",
    atM,
  };
}

export function islandsMerged(names: readonly string[], atM: PointM): Finding {
  return {
    code: "ISLANDS_MERGED",
    severity: "info",
    message: `One exclusion loop shuts out ${names.join(", ")}: the machine cannot pass between them.`,
    remedy: "Nothing, or move them apart and plan again.",
    atM,
  };
}

export function islandsShare(
  merges: number,
  savedM: number,
  givenUpM2: number,
  rate: number,
  atM: PointM,
): Finding {
  return {
    code: "ISLANDS_SHARE_LOOP",
    severity: "info",
    message: `${merges === 1 ? "An island shares" : `${merges} islands share`} a loop or join the edge although the machine could pass: ${m(savedM, 1)} m less wire for ${m(givenUpM2, 1)} m² of lawn, at ${rate} m² for a metre.`,
    remedy: "Ask for less lawn to be given up for a metre of wire to keep them apart.",
    atM,
  };
}

export function islandJoinsEdge(thing: Thing, atM: PointM): Finding {
  return {
    code: "ISLAND_JOINS_EDGE",
    severity: "info",
    message: `The machine cannot pass behind ${thing.name}: the boundary wire takes it in as part of the edge, without a loop of its own.`,
    remedy: "Nothing, or move it further from the edge and plan again.",
    atM,
    ...thing.source,
  };
}

/** @param round names of drawn ground that it bends at; none where it is something firm */
export function pairedRunBends(
  from: string,
  to: string,
  round: readonly string[],
  atM: PointM,
): Finding {
  return {
    code: "PAIRED_RUN_BENDS",
    severity: "info",
    message: `The paired run from ${from} to ${to} is led round ${round.length > 0 ? some(round) : "something firm"}.`,
    remedy: "Nothing.",
    atM,
  };
}

/** @param round names of what the wire bends round there, as far as it is known */
export function bendsTight(
  loop: string,
  radiusM: number,
  tight: readonly PointM[],
  round: readonly string[],
): Finding {
  const where = round.length > 0 ? ` (round ${some(round)})` : "";
  return {
    code: "BEND_TOO_TIGHT",
    severity: "warning",
    message: `At ${tight.length === 1 ? "one place" : `${tight.length} places`} the wire of loop ${loop} cannot bend as wide as the profile asks, with a radius of ${m(radiusM)} m${where}.`,
    remedy:
      "Round the bed or the edge itself, shut the place out with a wider set-in, or check in the machine's manual how tight a bend it follows.",
    ...(tight[0] ? { atM: tight[0] } : {}),
  };
}

export function wireCrosses(loop: string, atM: PointM): Finding {
  return {
    code: "WIRE_MEETS_ITSELF",
    severity: "error",
    message: `The wire of loop ${loop} meets itself, or does not come to all of its pegs.`,
    remedy: "Do not lay this plan. Please send us the input: this is a fault of the program.",
    atM,
  };
}
