import { misuse, Refusal } from "../refusal.ts";
import { codeOfError } from "./file-ops.ts";

const NOTHING = "nothing was written, and what was there is as it was";

/** The folder holds, or is, something that is not ours to replace. */
export function notOurs(folder: string, why: string): Refusal {
  return misuse(
    "OUT_NOT_OURS",
    `The output folder ${folder} ${why}: ${NOTHING}.`,
    "Choose another folder with --out, or move what is in this one.",
    folder,
  );
}

/** Another command is at work in the folder, or has been since this one looked. */
export function busy(folder: string, why: string): Refusal {
  return misuse(
    "OUT_BUSY",
    `The output folder ${folder} ${why}: ${NOTHING}.`,
    "Let the other command finish and run this one again, or choose another folder with --out.",
    folder,
  );
}

/** An input would be replaced by the result that is made from it. */
export function holdsInput(folder: string, input: string): Refusal {
  return misuse(
    "OUT_HOLDS_INPUT",
    `The output folder ${folder} holds the input ${input}, which the results would replace: ${NOTHING}.`,
    "Choose another folder with --out.",
    folder,
  );
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "you may not write there",
  EPERM: "you may not write there",
  EROFS: "it is on a file system that can only be read",
  ENOTDIR: "part of the path is a file, not a folder",
  ELOOP: "part of the path is a link that leads to itself",
  ENAMETOOLONG: "the name is too long",
  EBUSY: "it is in use",
};

/** A failed call of the file system in words; errors of other kinds, and refusals, as they are. */
export function notWritable(folder: string, error: unknown): unknown {
  const code = codeOfError(error);
  if (error instanceof Refusal || code === undefined) return error;
  if (code === "ENOSPC" || code === "EDQUOT") {
    return misuse(
      "OUT_DISK_FULL",
      `There is no room left for the results in ${folder} (${code}): ${NOTHING}.`,
      "Free some room, or choose a folder on another disk with --out.",
      folder,
    );
  }
  const reason = REASONS[code];
  return misuse(
    "OUT_NOT_WRITABLE",
    `The output folder ${folder} cannot be written${reason ? `: ${reason}` : ""} (${code}); ${NOTHING}.`,
    "Choose a folder that you may write to with --out.",
    folder,
  );
}
