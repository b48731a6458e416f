import { createHash } from "node:crypto";
import { readFileSync, readlinkSync } from "node:fs";
import { hostname } from "node:os";

/**
 * Who made a work folder: `HOST-PID-START`. The host is a hash of its name and, on Linux, of the
 * process name space, as two containers may share a folder but not their process numbers. The
 * start (clock ticks, Linux only, else 0) tells a process from a later one with the same number.
 */
export type Owner = string;

const HOST = createHash("sha256")
  .update(`${hostname()} ${or("", () => readlinkSync("/proc/self/ns/pid"))}`)
  .digest("hex")
  .slice(0, 8);

/** Of another host nothing is known but how old the folder is; writing takes seconds. */
const FOREIGN_DEAD_AFTER_MS = 3_600_000;

export const OWNER_PATTERN = "[0-9a-f]{8}-\\d+-\\d+";

export function thisOwner(): Owner {
  return `${HOST}-${process.pid}-${startOf(process.pid)}`;
}

/** Whether the process that made something is still at work. */
export function isAtWork(owner: Owner, ageMs: number): boolean {
  const [host, pid, start] = owner.split("-") as [string, string, string];
  if (host !== HOST) return ageMs < FOREIGN_DEAD_AFTER_MS;
  return isRunning(Number(pid)) && startOf(Number(pid)) === Number(start);
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

/** Field 22 of /proc/PID/stat (proc(5)); the second field is in brackets and may hold anything. */
function startOf(pid: number): number {
  const text = or("", () => readFileSync(`/proc/${pid}/stat`, "latin1"));
  const fields = text.slice(text.lastIndexOf(")") + 2).split(" ");
  return Number(fields[19] ?? 0) || 0;
}

function or<T>(otherwise: T, read: () => T): T {
  try {
    return read();
  } catch {
    return otherwise;
  }
}
