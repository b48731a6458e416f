import { terminalName } from "../escape/terminal.ts";
import type { NextTest } from "../handover/mend/break-search.ts";
import type { Mending } from "../handover/mend/mend-loop.ts";
import type { Stretch } from "../handover/mend/wire-places.ts";

/** Cautions of the work, said before each test. */
const CAUTIONS = [
  "Supply unplugged, and both ends of the loop off the station, before anything is touched.",
  "Keep the machine off: blades. Locate buried services before digging. Mains is for licensed persons.",
];

const m = (value: number): string => `${value.toFixed(value < 10 ? 2 : 1)} m`;

/** The search for a break in words: where things stand, what to test, what to say next. */
export function breakText({ wire, state, estimate, ohmPerKm, joints }: Mending): string {
  const loop = terminalName(wire.loop);
  const lines = [
    `Loop ${loop}: ${m(wire.lengthM)} of wire, ${wire.pegs} pegs.`,
    joints.length > 0
      ? `Joints at ${joints.map(terminalName).join(", ")}; name any other with --joint.`
      : "The plan states no joints; name those there are with --joint: joints fail most.",
    `${state.testsDone} test${state.testsDone === 1 ? "" : "s"} so far; ${m(state.suspectM)} of wire under suspicion in ${state.suspects.length} stretch${state.suspects.length === 1 ? "" : "es"} between pegs.`,
  ];
  if (estimate) {
    lines.push(
      `By the readings the fault lies ${m(estimate.chainageM)} from the start, give or take ${m(estimate.uncertaintyM)} (one standard deviation).`,
    );
  }
  if (state.several) {
    lines.push("There is more than one break: the shortest dead stretch is searched first.");
  }
  lines.push("");
  if (state.found) lines.push(...foundLines(state.found));
  else if (state.next) {
    const most = state.testsLeft;
    const left = most === 1 ? "this is the last test" : `at most ${most} tests to go`;
    lines.push(`Test ${state.testsDone + 1} (${left})`, ...CAUTIONS.map((one) => `  ${one}`));
    lines.push(...testLines(state.next, ohmPerKm));
  }
  return `${lines.join("\n")}\n`;
}

function foundLines({ from, to, lengthM, joints }: Stretch): string[] {
  return [
    `The break is between ${from.name} and ${to.name}: ${m(lengthM)} of wire, ${m(from.chainageM)} to ${m(to.chainageM)} from the start.`,
    ...(joints.length > 0
      ? [`  The joint at ${joints.join(" and ")} lies in it: open that first; joints fail most.`]
      : []),
    ...CAUTIONS.map((one) => `  ${one}`),
    "  Lift this stretch, mend it with a sealed coupler, peg it down, and seal every place that was pierced.",
    "  Then read the whole loop again and write the value and the new joint into the record.",
  ];
}

function testLines(next: NextTest, ohmPerKm: number): string[] {
  const { from, to, wireM, straightM, why, joint } = next;
  const expected = ((wireM + straightM) * ohmPerKm) / 1000;
  const stretch = `${from.name}-${to.name}`;
  return [
    why === "joint"
      ? `  The joint at ${joint} comes first, since joints fail most: test ${stretch}, ${m(wireM)} of wire.`
      : `  Test the wire from ${from.name} to ${to.name}, ${m(wireM)} of it.`,
    `  Clip a spare wire on at ${from.name} and lead it to ${to.name}, ${m(straightM)} straight across${pairNote(next)}.`,
    `  Put a meter between the spare wire and the wire at ${to.name}.`,
    `  About ${expected.toFixed(1)} ohm with a spare wire of the same kind: it carries.  Say --good ${stretch}`,
    `  Nothing, or kilo-ohms: the break lies in it.                          Say --dead ${stretch}`,
  ];
}

/** Two wires share the pegs of a pair: which one is meant. */
function pairNote({ from, to }: NextTest): string {
  const second = [from, to].filter(({ name }) => name.endsWith("/2")).map(({ name }) => name);
  if (second.length === 0) return "";
  return ` (${second.join(" and ")}: the wire that comes by for the second time, on the way back)`;
}
