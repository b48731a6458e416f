import { spawn } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { onTestFinished } from "vitest";

const BIN = resolve("dist/cli/pegline.js");

/** The demo garden of the project, by absolute path. */
export const demo = (name: string) => resolve("fixtures/demo", name);

export interface Ran {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
  /** Standard output as JSON; throws where it is anything else. */
  // biome-ignore lint/suspicious/noExplicitAny: tests look into whatever was printed
  json(): any;
}

/** Runs the built command line in a folder. `env` adds to a plain environment; `uid` is another user. */
export function pegline(
  args: readonly string[],
  options: { cwd?: string; env?: Record<string, string>; uid?: number } = {},
): Promise<Ran> {
  const child = spawn(process.execPath, [BIN, ...args], {
    cwd: options.cwd,
    ...(options.uid === undefined ? {} : { uid: options.uid, gid: options.uid }),
    env: { PATH: process.env.PATH ?? "", ...options.env },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let stdout = "";
  let stderr = "";
  child.stdout.setEncoding("utf8").on("data", (text) => (stdout += text));
  child.stderr.setEncoding("utf8").on("data", (text) => (stderr += text));
  return new Promise((done, fail) => {
    child.on("error", fail);
    child.on("close", (code) => done({ code, stdout, stderr, json: () => JSON.parse(stdout) }));
  });
}

/** A new empty folder, removed after the test. */
export async function emptyFolder(): Promise<string> {
  const path = await mkdtemp(join(tmpdir(), "pegline-test-"));
  onTestFinished(() => rm(path, { recursive: true, force: true }));
  return path;
}
