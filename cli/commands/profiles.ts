import { table } from "../../src/export/plain-text.ts";
import { builtInFile } from "../../src/profile/built-in.ts";
import { DEFAULT_PROFILE, PROFILE_NAMES, type ProfileName } from "../../src/profile/names.ts";
import { nearestName } from "../../src/profile/nearest-name.ts";
import { TOOL, VERSION } from "../../src/version.ts";
import { EXIT } from "../exit-codes.ts";
import { misuse } from "../refusal.ts";
import { type CommonOptions, Terminal } from "../terminal.ts";

/** `pegline profiles [NAME]`: all of them as a table, or one as a file to edit. */
export function profilesCommand(name: string | undefined, options: CommonOptions): number {
  const terminal = new Terminal(options);
  if (name !== undefined) {
    const file = builtInFile(knownName(name));
    terminal.result(file, () => `${JSON.stringify(file, null, 2)}\n`);
    return EXIT.fine;
  }
  const profiles = PROFILE_NAMES.map(builtInFile);
  const json = { tool: TOOL, version: VERSION, default: DEFAULT_PROFILE, profiles };
  terminal.result(json, profilesText);
  return EXIT.fine;
}

function knownName(name: string): ProfileName {
  const known = PROFILE_NAMES.find((one) => one === name);
  if (known) return known;
  const near = nearestName(name, PROFILE_NAMES);
  throw misuse(
    "PROFILE_NOT_FOUND",
    `There is no built-in profile named ${name}.`,
    `${near ? `Did you mean ${near}? ` : ""}The built-in profiles are ${PROFILE_NAMES.join(", ")}.`,
  );
}

function profilesText(): string {
  const files = PROFILE_NAMES.map(builtInFile);
  const rows = table([
    ["profile", ...files.map((file) => file.name)],
    ["set-in from an open edge", ...files.map((file) => `${file.setin_m.open.toFixed(2)} m`)],
    ["drives through, wire to wire", ...files.map((f) => `${f.passage.drive_min_m.toFixed(2)} m`)],
    ["mows, wire to wire", ...files.map((f) => `${f.passage.mow_min_m.toFixed(2)} m`)],
    ["longest peg span", ...files.map((f) => `${f.pegs.spacing_max_m.toFixed(2)} m`)],
    ["wire", ...files.map((f) => `${f.wire.ohm_per_km} ohm/km`)],
    ["longest loop", ...files.map((f) => `${f.loop.length_max_m} m`)],
    ["largest lawn", ...files.map((f) => `${f.loop.area_max_m2} m²`)],
  ]);
  return `${rows.join("\n")}

All three are invented and typical: replace the numbers from the manual of the machine at hand.
Where none is named, ${DEFAULT_PROFILE} is used. \`pegline profiles medium > my-machine.json\` gives a file to edit.
`;
}
