import { spawn } from "node:child_process";

/** The program by which each system opens an address in the reader's browser. */
const OPENERS: Readonly<Record<string, readonly string[]>> = {
  darwin: ["open"],
  win32: ["rundll32", "url.dll,FileProtocolHandler"],
};
const ELSEWHERE = ["xdg-open"];

/**
 * Has the system open an address.
 *
 * @returns what went wrong, or undefined
 */
export function openInBrowser(address: string): Promise<string | undefined> {
  const [program, ...args] = OPENERS[process.platform] ?? ELSEWHERE;
  return new Promise((done) => {
    const child = spawn(program!, [...args, address], { stdio: "ignore", detached: true });
    child.once("error", (error: NodeJS.ErrnoException) => done(`${program}: ${error.code}`));
    child.once("spawn", () => {
      child.unref();
      done(undefined);
    });
  });
}
