import type { Command } from "commander";
import { command } from "./shared-options.ts";

/** Describes `pegline profiles`. */
export function addProfiles(program: Command, finish: (code: number) => void): void {
  command(
    program,
    "profiles [NAME]",
    "List the built-in machine profiles, or print one as a file to edit.",
  )
    .addHelpText("after", "\nExample:\n  pegline profiles medium > my-machine.json\n")
    .action(async (name: string | undefined, options) => {
      const { profilesCommand } = await import("../commands/profiles.ts");
      finish(profilesCommand(name, options));
    });
}
