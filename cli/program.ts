import { Command, CommanderError } from "commander";
import { nearestName } from "../src/profile/nearest-name.ts";
import { VERSION } from "../src/version.ts";
import { EXIT } from "./exit-codes.ts";
import { addBatch } from "./program/batch.ts";
import { addBreak } from "./program/break.ts";
import { addCheck } from "./program/check.ts";
import { addCompare } from "./program/compare.ts";
import { addConvert } from "./program/convert.ts";
import { addInit } from "./program/init.ts";
import { addInspect } from "./program/inspect.ts";
import { addOpen } from "./program/open.ts";
import { addPlan } from "./program/plan.ts";
import { addProfiles } from "./program/profiles.ts";
import { addRevise } from "./program/revise.ts";
import { misuse, type Refusal } from "./refusal.ts";

const COMMANDS = [
  "plan",
  "revise",
  "batch",
  "check",
  "convert",
  "compare",
  "break",
  "open",
  "inspect",
  "init",
  "profiles",
];

const EXIT_HELP = `
Exit codes: 0 fine; 1 made, but a finding of severity error stands; 2 wrong use;
3 an input cannot be read or is unusable; 4 a fault of pegline.
`;

/** Runs one command and returns its exit code. Throws a Refusal where it cannot go on. */
export async function runCli(args: readonly string[]): Promise<number> {
  let exitCode: number = EXIT.fine;
  const finish = (code: number) => {
    exitCode = code;
  };
  const program = describeProgram(finish);
  if (args.every((arg) => arg === "--json" || arg === "--quiet")) {
    throw misuse(
      "COMMAND_MISSING",
      `Say what to do: ${COMMANDS.join(", ")}.`,
      "`pegline plan garden.geojson` plans a site; `pegline --help` shows everything.",
    );
  }
  try {
    await program.parseAsync([...args], { from: "user" });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.exitCode !== 0) throw usageRefusal(error, args);
  }
  return exitCode;
}

function describeProgram(finish: (code: number) => void): Command {
  const program = new Command("pegline")
    .description("Turns outlines of a site into a boundary-wire plan for a robotic mower.")
    .version(VERSION, "--version", "print the version")
    .helpOption("--help", "show this help")
    .helpCommand(false)
    .exitOverride()
    .configureOutput({ writeErr: () => {} })
    .addHelpText("after", EXIT_HELP);
  addPlan(program, finish);
  addRevise(program, finish);
  addBatch(program, finish);
  addCheck(program, finish);
  addConvert(program, finish);
  addCompare(program, finish);
  addBreak(program, finish);
  addOpen(program, finish);
  addInspect(program, finish);
  addInit(program, finish);
  addProfiles(program, finish);
  return program;
}

const USAGE_CODES: Readonly<Record<string, string>> = {
  "commander.unknownOption": "OPTION_UNKNOWN",
  "commander.optionMissingArgument": "OPTION_VALUE_MISSING",
  "commander.missingArgument": "INPUT_MISSING",
  "commander.unknownCommand": "COMMAND_UNKNOWN",
  "commander.help": "COMMAND_MISSING",
};

function usageRefusal(error: CommanderError, args: readonly string[]): Refusal {
  const code = USAGE_CODES[error.code] ?? "ARGUMENTS_INVALID";
  const message = error.message.replace(/^error: /, "").replace(/\s*\n\s*/g, " ");
  const first = args.find((arg) => !arg.startsWith("-"));
  const near = code === "COMMAND_UNKNOWN" && first ? nearestName(first, COMMANDS) : undefined;
  const help = COMMANDS.includes(first ?? "") ? `pegline ${first} --help` : "pegline --help";
  return misuse(
    code,
    `${message.charAt(0).toUpperCase()}${message.slice(1)}.`.replace(/([.?)])\.$/, "$1"),
    `${near ? `Did you mean \`pegline ${near}\`? ` : ""}\`${help}\` shows what it takes.`,
  );
}
