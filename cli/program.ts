import { Command, CommanderError } from "commander";
import { FORMAT_NAMES } from "../src/export/exchange/formats.ts";
import { nearestName } from "../src/profile/nearest-name.ts";
import { VERSION } from "../src/version.ts";
import { EXIT } from "./exit-codes.ts";
import {
  parseCount,
  parseCrs,
  parseFormat,
  parseLanguage,
  parseLawn,
  parseList,
  parseLists,
  parseOutCrs,
  parsePair,
  parseParts,
  parsePort,
  parsePositive,
  parseRole,
  parseScale,
  parseSheet,
  parseUnits,
  parseValue,
} from "./parse-options.ts";
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

/** A command with the options that all have. */
function command(program: Command, usage: string, description: string): Command {
  return program
    .command(usage)
    .description(description)
    .option("--json", "result to standard output as JSON, nothing else there")
    .option("--quiet", "no summary and no progress; only findings of severity error")
    .helpOption("--help", "show this help");
}

function withSiteOptions(described: Command): Command {
  return described
    .option(
      "--crs <EPSG:N>",
      "coordinate reference system of inputs that do not state one",
      parseCrs,
    )
    .option("--role <LAYER=ROLE>", "role of all features of a layer; may be repeated", parseRole);
}

function withSiteFile(described: Command): Command {
  return withSiteOptions(described)
    .option("--site <FILE>", "site file with all that can be said here, and more", parseValue)
    .option("--lawn <NAME>", "plan only this lawn (name, id, #number); may be repeated", parseLawn);
}

/** What is said of the planning itself. */
function withPlanning(described: Command): Command {
  return described
    .option(
      "--profile <NAME|FILE>",
      "machine profile, built-in or a JSON file; default: medium",
      parseValue,
    )
    .option(
      "--parts <own|carried|none>",
      "what becomes of parts that the machine cannot drive to; default: own",
      parseParts,
    )
    .option(
      "--terrain <FILE>",
      "heights of the ground (GeoTIFF, ESRI ASCII grid): lengths along it, slopes",
      parseValue,
    )
    .option("--sun", "compute the sun on the lawn through the season: shade, map, station")
    .option("--zone <ZONE>", "time zone of clock times for --sun, e.g. +02:00", parseValue)
    .option("--signal", "compute the signal of the finished wire, too")
    .option("--coverage", "simulate the machine at work inside the finished wire, too")
    .option("--no-split", "one loop for each part, even where it is more than one loop may have");
}

/** What both planning anew and revising take. */
function withPlanOptions(described: Command): Command {
  const planned = withPlanning(
    described.option(
      "--out <DIR>",
      "folder for the results; default: named after the first input",
      parseValue,
    ),
  )
    .option(
      "--sheet <A4|A3|A2|A1|auto>",
      "also draw the plan to scale: sheet.pdf and sheet.svg on this paper",
      parseSheet,
    )
    .option(
      "--image <FILE>",
      "picture beneath the drawings: GeoTIFF, or PNG or JPEG with a world file",
      parseValue,
    )
    .option("--scale <N>", "scale of the drawings, e.g. 200 for 1:200; default: chosen", parseScale)
    .option(
      "--lists <NAMES>",
      "further lists, with commas: reels, ties, offsets, points, gpx, or all",
      parseLists,
    )
    .option("--language <en|de>", "language of the laying guide; default: en", parseLanguage)
    .option("--units <m|ft>", "lengths in the laying guide and the lists; default: m", parseUnits);
  return withSiteFile(withFormats(planned));
}

function addPlan(program: Command, finish: (code: number) => void): void {
  withPlanOptions(command(program, "plan [INPUT...]", "Plan the wire and write the results."))
    .addHelpText(
      "after",
      `
Examples:
  pegline plan garden.geojson
  pegline plan lawn.shp beds.shp --crs EPSG:27700 --role beds=bed --out garden-plan
  pegline plan garden.kml --profile my-machine.json --json
  pegline plan garden.kml --sheet A3 --scale 200
  pegline plan garden.kml --format gpkg,dxf --out-crs EPSG:25832
  pegline plan pegline.json
`,
    )
    .action(async (inputs: string[], options) => {
      const { planCommand } = await import("./commands/plan.ts");
      finish(await planCommand(inputs, options));
    });
}

function addRevise(program: Command, finish: (code: number) => void): void {
  withPlanOptions(
    command(
      program,
      "revise [OLD] [INPUT...]",
      "Plan a changed site so that as much of the wire in the ground as may be stays.",
    ),
  )
    .addHelpText(
      "after",
      `
Examples:
  pegline revise garden/plan.geojson garden-with-new-bed.kml --out garden-2
  pegline revise garden-as-laid.geojson pegline.json
`,
    )
    .action(async (old: string | undefined, inputs: string[], options) => {
      const { reviseCommand } = await import("./commands/revise.ts");
      finish(await reviseCommand(old === undefined ? [] : [old, ...inputs], options));
    });
}

function addBatch(program: Command, finish: (code: number) => void): void {
  const batch = command(
    program,
    "batch [INPUT...]",
    "Plan every plot of large inputs, or of a stream (-), on all cores.",
  )
    .option("--by <FIELD>", "features with the same value of this attribute are a plot", parseValue)
    .option("--each-lawn", "each lawn with what lies at it is a plot")
    .option(
      "--out <DIR>",
      "folder for the results; - for a text sequence to standard output",
      parseValue,
    )
    .option("--jobs <N>", "plots planned at once; default: one for each core", parseCount)
    .option("--plot-seconds <N>", "longest time for one plot; default: 1800", parsePositive)
    .option("--restart", "begin anew where an earlier run did not end")
    .option(
      "--profile <NAME|FILE>",
      "machine profile, built-in or a JSON file; default: medium",
      parseValue,
    )
    .option(
      "--parts <own|carried|none>",
      "what becomes of parts that the machine cannot drive to; default: own",
      parseParts,
    )
    .option("--terrain <FILE>", "heights of the ground (GeoTIFF, ESRI ASCII grid)", parseValue)
    .option("--no-split", "one loop for each part, even where it is more than one loop may have");
  withSiteOptions(batch)
    .option("--site <FILE>", "site file whose rules hold for every plot", parseValue)
    .addHelpText(
      "after",
      `
Examples:
  pegline batch county.gpkg --by parcel --out county-plans
  pegline batch parks.geojson --each-lawn --profile large
  pegline batch - < plots.geojsons > plans.geojsons
`,
    )
    .action(async (inputs: string[], options) => {
      const { batchCommand } = await import("./commands/batch.ts");
      finish(await batchCommand(inputs, options));
    });
}

function addCheck(program: Command, finish: (code: number) => void): void {
  const check = command(
    program,
    "check [PLAN] [INPUT...]",
    "Measure a wire, ours or one edited or drawn elsewhere, against the site.",
  ).option(
    "--profile <NAME|FILE>",
    "machine profile, built-in or a JSON file; default: medium",
    parseValue,
  );
  withSiteFile(check)
    .addHelpText(
      "after",
      `
Examples:
  pegline check garden/plan.geojson garden.kml
  pegline check drawn-wire.kml garden.kml --profile small --json
  pegline check garden pegline.json
`,
    )
    .action(async (plan: string | undefined, inputs: string[], options) => {
      const { checkCommand } = await import("./commands/check.ts");
      finish(await checkCommand(plan === undefined ? [] : [plan, ...inputs], options));
    });
}

/** In which other formats, and in which reference system. */
function withFormats(described: Command): Command {
  return described
    .option(
      "--format <NAME>",
      `also write the plan as ${FORMAT_NAMES.join(", ")}; several with commas, may be repeated`,
      parseFormat,
    )
    .option(
      "--out-crs <EPSG:N>",
      "reference system of those files: a code, PROJ string, WKT or site-grid",
      parseOutCrs,
    );
}

function addConvert(program: Command, finish: (code: number) => void): void {
  const convert = command(
    program,
    "convert [PLAN]",
    "Write a plan in other formats, from any format that a plan was written in.",
  )
    .option("--out <DIR>", "folder for the files; default: named after the plan", parseValue)
    .option("--crs <EPSG:N>", "reference system of the plan, where its file states none", parseCrs);
  withFormats(convert)
    .addHelpText(
      "after",
      `
Examples:
  pegline convert garden/plan.geojson --format gpkg,kmz
  pegline convert garden --format dxf --out-crs EPSG:27700 --out garden-drawing
  pegline convert edited.gpkg --format geojson
`,
    )
    .action(async (plan: string | undefined, options) => {
      const { convertCommand } = await import("./commands/convert.ts");
      finish(await convertCommand(plan, options));
    });
}

function addCompare(program: Command, finish: (code: number) => void): void {
  const compare = command(
    program,
    "compare [PLAN] [TRACK] [INPUT...]",
    "Compare the wire as laid (a walked track, surveyed pegs, an edited wire) with its plan.",
  )
    .option("--out <FILE>", "write the as-laid record to this file (GeoJSON)", parseValue)
    .option("--force", "replace a file that is already there")
    .option("--noise <M>", "standard error of the receiver, metres; default: 0.02", parsePositive)
    .option("--align", "take a shift that all measurements have in common off first")
    .option(
      "--profile <NAME|FILE>",
      "machine profile, built-in or a JSON file; default: medium",
      parseValue,
    );
  withSiteFile(compare)
    .addHelpText(
      "after",
      `
Examples:
  pegline compare garden/plan.geojson walked.gpx
  pegline compare garden pegs.csv garden.kml --crs EPSG:25832 --out garden-as-laid.geojson
`,
    )
    .action(
      async (plan: string | undefined, track: string | undefined, inputs: string[], given) => {
        const { compareCommand } = await import("./commands/compare.ts");
        const args = [plan, track].filter((one) => one !== undefined);
        finish(await compareCommand([...args, ...inputs], given));
      },
    );
}

function addBreak(program: Command, finish: (code: number) => void): void {
  const tested: { stretch: string; carries: boolean }[] = [];
  const told = (carries: boolean) => (text: string) => {
    tested.push({ stretch: parseValue(text), carries });
    return tested;
  };
  command(
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
    )
    .option(
      "--profile <NAME|FILE>",
      "machine profile, built-in or a JSON file; default: medium",
      parseValue,
    )
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
      const { breakCommand } = await import("./commands/break.ts");
      finish(await breakCommand(plan, { ...options, tested }));
    });
}

function addOpen(program: Command, finish: (code: number) => void): void {
  const open = command(
    program,
    "open [PLAN|INPUT...]",
    "Show a plan, or a site as it is planned, in a browser; files may change meanwhile.",
  )
    .option("--port <N>", "port on 127.0.0.1; default: one that is free", parsePort)
    .option("--browser", "start the browser of the system with it");
  withSiteFile(withPlanning(open))
    .option(
      "--image <FILE>",
      "picture beneath: GeoTIFF, or PNG or JPEG with a world file",
      parseValue,
    )
    .option("--language <en|de>", "language of the page at first; default: en", parseLanguage)
    .option("--units <m|ft>", "lengths in the page at first; default: m", parseUnits)
    .addHelpText(
      "after",
      `
Examples:
  pegline open garden
  pegline open garden garden-2
  pegline open pegline.json --browser
  pegline open garden.kml --profile small --port 8080
`,
    )
    .action(async (args: string[], options) => {
      const { openCommand } = await import("./commands/open.ts");
      finish(await openCommand(args, options));
    });
}

function addInspect(program: Command, finish: (code: number) => void): void {
  const inspect = command(
    program,
    "inspect [INPUT...]",
    "Say what is in the files: layers, reference system, roles, what is repaired or missing.",
  );
  withSiteFile(inspect)
    .addHelpText("after", "\nExample:\n  pegline inspect garden.kml --json\n")
    .action(async (inputs: string[], options) => {
      const { inspectCommand } = await import("./commands/inspect.ts");
      finish(await inspectCommand(inputs, options));
    });
}

function addInit(program: Command, finish: (code: number) => void): void {
  const init = command(
    program,
    "init <INPUT...>",
    "Write a site file with comments from what is in the files, to edit and plan from.",
  )
    .option("--out <FILE>", "the file to write; default: pegline.json", parseValue)
    .option("--force", "replace a file that is already there");
  withSiteOptions(init)
    .addHelpText("after", "\nExample:\n  pegline init lawn.shp beds.shp --out pegline.json\n")
    .action(async (inputs: string[], options) => {
      const { initCommand } = await import("./commands/init.ts");
      finish(await initCommand(inputs, options));
    });
}

function addProfiles(program: Command, finish: (code: number) => void): void {
  command(
    program,
    "profiles [NAME]",
    "List the built-in machine profiles, or print one as a file to edit.",
  )
    .addHelpText("after", "\nExample:\n  pegline profiles medium > my-machine.json\n")
    .action(async (name: string | undefined, options) => {
      const { profilesCommand } = await import("./commands/profiles.ts");
      finish(profilesCommand(name, options));
    });
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
