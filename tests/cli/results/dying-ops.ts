import type { FileOps } from "../../../cli/results/file-ops.ts";
import { FILE_OPS } from "../../../cli/results/file-ops.ts";

/** What changes the file system; the rest only looks. */
const CHANGES: readonly string[] = [
  "copyFile",
  "link",
  "mkdir",
  "open",
  "rename",
  "rm",
  "rmdir",
  "symlink",
  "unlink",
];

export class Died extends Error {}

export interface Counted {
  readonly ops: FileOps;
  /** How many changes were asked for. */
  count(): number;
}

/** Calls of the file system, the changing ones counted and each first given to `before`. */
function counted(before: (n: number, name: string) => void, partial: boolean): Counted {
  let n = 0;
  const wrapped = Object.fromEntries(
    Object.entries(FILE_OPS).map(([name, call]) => [
      name,
      async (...args: unknown[]) => {
        if (CHANGES.includes(name)) before(++n, name);
        // biome-ignore lint/suspicious/noExplicitAny: passes on whatever it is given
        const done = await (call as any)(...args);
        if (name !== "open") return done;
        const writeFile = done.writeFile.bind(done);
        done.writeFile = async (data: string) => {
          // Half of a file is on the disk when the process dies.
          if (partial) await writeFile(data.slice(0, data.length / 2));
          before(++n, "write");
          return writeFile(partial ? data.slice(data.length / 2) : data);
        };
        return done;
      },
    ]),
  );
  return { ops: wrapped as unknown as FileOps, count: () => n };
}

/** A process that is killed before its n-th change: neither that one nor any later one happens. */
export function dyingAt(moment: number): Counted {
  return counted((n) => {
    if (n >= moment) throw new Died();
  }, true);
}

/** One change that fails with a code; all others do what they are asked. */
export function failingAt(moment: number, code: string): Counted {
  return counted((n, name) => {
    if (n === moment) throw systemError(code, name);
  }, false);
}

/** A file system without some calls. */
export function without(names: readonly string[], code: string): FileOps {
  return counted((_, name) => {
    if (names.includes(name)) throw systemError(code, name);
  }, false).ops;
}

function systemError(code: string, syscall: string): Error {
  return Object.assign(new Error(`${code}: ${syscall}`), { code, syscall });
}
