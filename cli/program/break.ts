import type { Command } from "commander";
import { parseList, parsePair, parsePositive, parseValue } from "../parse-options.ts";
import { command, withProfile } from "./shared-options.ts";

/** Describes `pegline break`. */
export function addBreak(program: Command, finish: (code: number) => void): void {
  const tested: { stretch: string; carries: boolean }[] = [];
  const told = (carries: boolean) => (text: string) => {
    tested.push({ stretch: parseValue(text), carries });
    return tested;
  };
  const search = command(
    program,
    "break [PLAN]",
    "Lead the search for a break in a loop: which pegs to test between next.",
  )
    .option("--loop <NAME>", "the loop that does not work, where there are several", parseValue)
    .option("--dead <PEG-PEG>", "a stretch that does not carry; may be repeated", told(false))
    .option("--good <PEG-PEG>", "a stretch that carries; may be repeated", told(true))
    .option("--joint <PEG>", "a peg at which there is a joint; may be repeated", parseList)
    .option(
      "--nanofarad <START,END>",
      "capacitance to earth, measured from both ends of a broken wire",
      parsePair,
    )
    .option(
      "--leak-ohm <START,END>",
      "resistance to earth, measured from both ends of wire that is whole but leaks",
      parsePair,
    )
    .option(
      "--ohm-per-km <N>",
      "resistance of the wire; default: that of the profile",
      parsePositive,
    );
  withProfile(search)
    .addHelpText(
      "after",
      `
Examples:
  pegline break garden/plan.geojson
  pegline break garden --dead A1-A64 --good A1-A32
  pegline break estate --loop C --joint C120 --nanofarad 18.2,31.5
`,
    )
    .action(async (plan: string | undefined, options) => {
      const { breakCommand } = await import("../commands/break.ts");
      finish(await breakCommand(plan, { ...options, tested }));
    });
}
