/**
 * Everything that is said to the crew, in English. ICU MessageFormat; the other languages have the
 * same keys and placeholders (a test holds that). Lengths, areas and names come as text.
 */
import { CAUTION_TEXTS, type CautionCode } from "../cautions.ts";
import { EN_SHEET } from "./en-sheet.ts";

const cautions = Object.fromEntries(
  Object.entries(CAUTION_TEXTS).map(([code, text]) => [`caution.${code}`, text]),
) as { readonly [C in CautionCode as `caution.${C}`]: string };

export const EN = {
  ...cautions,
  ...EN_SHEET,

  "guide.title": "Laying guide: {site}",
  "guide.step": "step",
  "guide.laid": "laid",

  "before.title": "Before you begin",
  "before.errors":
    "STOP: {count, plural, one {# finding says} other {# findings say}} that this plan must not be laid as it stands. Read the findings in the summary first.",
  "before.how":
    "Steps are in laying order. The wire goes round with the lawn on your left hand: anticlockwise, from the station back to the station. The figure beside each step is the wire laid since the station.",
  "before.lengths":
    "Lengths are {ground, select, yes {along the ground, by the heights given} other {level, as on the plan; on a slope the tape shows more}}. {numbers, select, kept {Pegs that stay keep their numbers, new ones have the next free ones: go by the order of the steps, not by the numbers} other {Pegs are numbered in the order in which the wire comes to them}}; pegs.csv has the place of each.",
  "before.revision":
    "This plan changes a wire that is in the ground: revision.geojson says which wire and pegs stay, what is lifted and what is laid anew. The steps name the whole wire; where it stays, only look it over.",
  "before.pegs":
    "Hook the wire under every peg and pull it straight, not tight. Drive pegs half way; drive them flush when the loop is proved.",
  "before.lawn":
    "Mow short and clear the lawn. Keep the gauge stick at hand: the set-in is measured from the edge to the wire.",
  "before.buy":
    "You need {wire} of wire on {reels, plural, one {# reel} other {# reels}} of {reel}, {pegs, plural, one {# peg} other {# pegs}} with spares, {couplers, plural, =0 {no coupler} one {# sealed coupler} other {# sealed couplers}}, {connectors, plural, one {# terminal} other {# terminals}} and {stations, plural, one {# station} other {# stations}} with {fixings, plural, one {# screw} other {# screws}}.",
  "before.lead":
    "Lead from the station of loop {loop} to the nearest outlet: at least {length}, round lawn and buildings; more the way it really goes.",
  "before.reels":
    "Measure each reel before you lay it, from end to end: a full one shows about {ohm}. No reading: the wire on it is broken.",

  "loop.title":
    "Loop {loop}: {wire} of wire, {pegs, plural, one {# peg} other {# pegs}}{islands, plural, =0 {} one {, # island} other {, # islands}}",
  "loop.reel": "Begin with reel {reel}.",
  "loop.reelRest": "Begin with what is left on reel {reel}.",

  "station.set":
    "Put the station down loosely at {peg}. The machine drives in along the wire, heading {heading} ({bearing}°).",
  "station.tie":
    "{peg} lies {first} from {from} and {second} from {and}, on the {side, select, left {left} other {right}} seen from the first to the second.",
  "station.straight":
    "{length} of wire lie straight on its shorter side: nothing may bend it there.",
  "station.spare": "Leave {spare} of wire free at {peg} for the terminal, and lay from there.",
  "station.chosen":
    "This place was chosen from the outline alone: see that it is level, shaded at midday, near an outlet and out of sight of the road.",

  "lay.straight": "From {from} {length} straight {beside} to {to}{between}.",
  "lay.curve":
    "From {from} {length} {beside} in a curve to the {side, select, left {left} other {right}} to {to}{between}.",
  "lay.winding": "From {from} {length} {beside}, following its bends, to {to}{between}.",
  "lay.around": "Right round from {from} and back to it, {length} {beside}{between}.",
  "lay.keep": "Keep {gap} from it.",
  "lay.keepRange": "Keep {least} to {most} from it.",
  "lay.turn": "Turn {side, select, left {left} other {right}} (about {angle}°).",
  "lay.bear": "Bear {side, select, left {left} other {right}} (about {angle}°).",

  "between.row": "{from} to {to}",
  "between.one": ", with {peg} after {gap}",
  "between.even": ", with {pegs} between, {gap} apart",
  "between.uneven": ", with {pegs} between, {least} to {most} apart",

  "beside.open": "along the edge of the lawn",
  "beside.openOf": "along {name}",
  "beside.wall": "along the wall",
  "beside.wallOf": "along the wall of {name}",
  "beside.fence": "along the fence",
  "beside.fenceOf": "along the fence of {name}",
  "beside.hedge": "along the hedge",
  "beside.hedgeOf": "along the hedge of {name}",
  "beside.kerb": "along the kerb",
  "beside.kerbOf": "along the kerb of {name}",
  "beside.flush": "along the flush paving",
  "beside.flushOf": "along the flush paving of {name}",
  "beside.water": "along the water",
  "beside.waterOf": "along the water of {name}",
  "beside.drop": "along the drop",
  "beside.dropOf": "along the drop of {name}",
  "beside.loop": "along the wire of the other loop",
  "beside.loopOf": "along the wire of loop {name}",
  "beside.lawn": "over the open lawn",
  "beside.lawnOf": "over the open lawn",
  "beside.across": "across the flush paving",
  "beside.acrossOf": "across the flush paving of {name}",

  "run.out":
    "At {from} leave {where, select, edge {the edge} other {the ring}} and go out to {name}: {length} to {to}{between}.",
  "run.outPart":
    "At {from} leave {where, select, edge {the edge} other {the ring}} and go out to the next part of the lawn: {length} to {to}{between}.",
  "run.outFork":
    "At {from} leave {where, select, edge {the edge} other {the ring}} and go out to the fork at {to}: {length}{between}.",
  "run.on": "Go on from the fork at {from} to {name}: {length} to {to}{between}.",
  "run.onPart":
    "Go on from the fork at {from} to the next part of the lawn: {length} to {to}{between}.",
  "run.onFork": "Go on from the fork at {from} to the next fork at {to}: {length}{between}.",
  "run.pair":
    "Both wires of the run share these pegs: lay this one on their {side, select, left {left} other {right}} and leave the pegs proud.",
  "run.round":
    "Now round {name}, clockwise, with it on your right hand, and back to {peg}: {length} in all.",
  "run.roundPart":
    "Now round this part, anticlockwise, with the lawn on your left hand, and back to {peg}: {length} in all.",
  "run.back":
    "{name} is closed. Go back to {to} on the same pegs{between}: {length}, again on their {side, select, left {left} other {right}}, close beside the first wire and never across it. Drive these pegs over both.",
  "run.backPart":
    "This part is closed. Go back to {to} on the same pegs{between}: {length}, again on their {side, select, left {left} other {right}}, close beside the first wire and never across it. Drive these pegs over both.",
  "run.backFork":
    "Go back to {to} on the same pegs{between}: {length}, again on their {side, select, left {left} other {right}}, close beside the first wire and never across it. Drive these pegs over both.",
  "run.betweenBack": " ({pegs})",

  "joint.reels":
    "Reel {before} ends here. Join reel {after} to it with a sealed coupler at {peg} ({joint}), and mark the place on the plan.",
  "joint.left": "{left} of wire stay on reel {reel}.",
  "joint.test":
    "Pull at both wires of the coupler; then measure from the first end at the station to the end on the new reel: there must be a reading.",

  "passage.drive":
    "This wire closes in passage {number}: measure across to the wire or the firm edge on its other side, {width} at the narrowest. The machine only drives through it.",
  "passage.mow":
    "This wire closes in passage {number}: measure across to the wire or the firm edge on its other side, {width} at the narrowest.",
  "passage.shut":
    "Passage {number} ({width} edge to edge) is left out: the wire goes past it, not into it.",

  "note.water":
    "Water: the wire alone does not hold the machine. See that a fence, a kerb or a wall stands between before you go on.",
  "note.drop": "A drop: the wire alone does not hold the machine. It needs a barrier that does.",
  "note.across": "Cut the wire into a joint or a saw cut here, below the surface.",

  "close.back":
    "You are back at the station: {laid} lie. Leave {spare} free at {peg}, cut, and mark this end as the returning one.",
  "close.left": "{left} of wire stay on reel {reel}: keep them for repairs.",

  "guide-wire.out":
    "Guide wire, from reel {reel}: leave {spare} free at the station, then straight out {length} to {to}{between}.",
  "guide-wire.straight": "From {from} {length} straight on to {to}{between}.",
  "guide-wire.keep": "Keep {clearance} from all other wire and from firm things.",
  "guide-wire.curve": "From {from} {length} on, following its bends, to {to}{between}.",
  "guide-wire.join":
    "At {peg} join the guide wire to the wire of the loop with a sealed coupler ({joint}); {laid} of guide wire lie.",

  "prove.title": "Prove loop {loop}",
  "prove.reading":
    "Before the ends go to the station, with the supply off, measure across them: about {expected} at 20 °C; good from {least} to {most}.",
  "prove.wrong":
    "No reading, or kilo-ohms: the wire is broken. Above: a bad joint. Below: wire is missing from the circuit, or two parts of it touch.",
  "prove.connect":
    "Trim the ends to the terminals, bare 10 to 15 mm, and connect them with the supply off: the outgoing one and the returning one as the station is marked. Swapped, inside is outside.",
  "prove.power": "Switch on: the station must show a closed loop.",
  "prove.walk":
    "Walk the wire: no wire stands up, no two cross, every peg holds. Then drive the pegs flush.",
  "prove.islands":
    "Watch the machine at {names}: it must turn at the wire and drive over the paired runs.",
  "prove.passages":
    "Send the machine through {count, plural, one {passage {numbers}} other {passages {numbers}}} both ways.",
  "prove.dock":
    "Let the machine find the station three times, then fix the station down with {fixings, plural, one {# screw} other {# screws}}.",

  "mind.title": "Mind",
  "mind.record":
    "Hand over: the plan with every change marked, the loop readings with date and weather, the rests of wire and pegs, and how to stop the machine.",

  "control.given": "{name}",
  "control.mark": "the mark {name}",
  "control.building": "the {side} corner of {name}",
  "control.firm": "the {side} corner of {name}",
  "control.lawn": "the {side} corner of {name}",
  "control.edge": "the farthest place on the {side} edge of {name}",

  "side.N": "northern",
  "side.NE": "north-eastern",
  "side.E": "eastern",
  "side.SE": "south-eastern",
  "side.S": "southern",
  "side.SW": "south-western",
  "side.W": "western",
  "side.NW": "north-western",

  "compass.N": "north",
  "compass.NE": "north-east",
  "compass.E": "east",
  "compass.SE": "south-east",
  "compass.S": "south",
  "compass.SW": "south-west",
  "compass.W": "west",
  "compass.NW": "north-west",

  "material.wire": "Boundary wire",
  "material.reels": "Reels of {reel}",
  "material.pegs": "Pegs",
  "material.couplers": "Sealed couplers",
  "material.connectors": "Terminals",
  "material.stations": "Stations",
  "material.fixings": "Screws for the stations",
  "material.lead": "Lead from station to outlet",
  "material.outlets": "Outdoor outlets",
} as const;
