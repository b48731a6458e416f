/** Options that several commands have, described once. */
import type { Command } from "commander";
import { FORMAT_NAMES } from "../../src/export/exchange/formats.ts";
import {
  parseCrs,
  parseFormat,
  parseLanguage,
  parseLawn,
  parseLists,
  parseOutCrs,
  parseParts,
  parseRole,
  parseScale,
  parseSheet,
  parseUnits,
  parseValue,
} from "../parse-options.ts";

/** A command with the options that all have. */
export function command(program: Command, usage: string, description: string): Command {
  return program
    .command(usage)
    .description(description)
    .option("--json", "result to standard output as JSON, nothing else there")
    .option("--quiet", "no summary and no progress; only findings of severity error")
    .helpOption("--help", "show this help");
}

/** How inputs are read. */
export function withSiteOptions(described: Command): Command {
  return described
    .option(
      "--crs <EPSG:N>",
      "coordinate reference system of inputs that do not state one",
      parseCrs,
    )
    .option("--role <LAYER=ROLE>", "role of all features of a layer; may be repeated", parseRole);
}

/** The same, and what a site file says. */
export function withSiteFile(described: Command): Command {
  return withSiteOptions(described)
    .option("--site <FILE>", "site file with all that can be said here, and more", parseValue)
    .option("--lawn <NAME>", "plan only this lawn (name, id, #number); may be repeated", parseLawn);
}

/** The machine. */
export function withProfile(described: Command): Command {
  return described.option(
    "--profile <NAME|FILE>",
    "machine profile, built-in or a JSON file; default: medium",
    parseValue,
  );
}

/** What is said of the planning itself. */
export function withPlanning(described: Command): Command {
  return withProfile(described)
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
export function withPlanOptions(described: Command): Command {
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
    .option(
      "--language <en|de>",
      "language of guide, drawings and materials; default: en",
      parseLanguage,
    )
    .option("--units <m|ft>", "lengths in the laying guide and the lists; default: m", parseUnits);
  return withSiteFile(withFormats(planned));
}

/** In which other formats, and in which reference system. */
export function withFormats(described: Command): Command {
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
