/** `pegline open`, run as people run it, and requests byte by byte. */
import { spawn } from "node:child_process";
import { connect } from "node:net";
import { resolve } from "node:path";
import { onTestFinished } from "vitest";

const BIN = resolve("dist/cli/pegline.js");

export interface Served {
  readonly port: number;
  readonly address: string;
  /** What it printed as JSON. */
  readonly said: { readonly shows: string; readonly files: readonly string[] };
  /** All of standard error so far. */
  errors(): string;
  /** Sends a signal; gives the exit code. */
  stop(signal: NodeJS.Signals): Promise<number | null>;
}

export function serve(args: readonly string[], cwd: string): Promise<Served> {
  const child = spawn(process.execPath, [BIN, "open", ...args, "--json"], {
    cwd,
    env: { PATH: process.env.PATH ?? "" },
    stdio: ["ignore", "pipe", "pipe"],
  });
  const ended = new Promise<number | null>((done) => child.on("close", (code) => done(code)));
  onTestFinished(async () => {
    child.kill("SIGKILL");
    await ended;
  });
  let printed = "";
  let errors = "";
  child.stderr.setEncoding("utf8").on("data", (text) => (errors += text));
  return new Promise((done, fail) => {
    void ended.then((code) => fail(new Error(`ended with ${code}: ${printed}${errors}`)));
    child.stdout.setEncoding("utf8").on("data", (text) => {
      printed += text;
      if (!printed.endsWith("}\n")) return;
      const said = JSON.parse(printed);
      const { port, address } = said;
      const stop = (signal: NodeJS.Signals) => {
        child.kill(signal);
        return ended;
      };
      done({ port, address, said, errors: () => errors, stop });
    });
  });
}

export interface Answered {
  readonly status: number;
  readonly head: string;
  readonly body: string;
}

/** One request as it is written here, and all that comes back until `enough` or the end. */
export function ask(
  port: number,
  lines: readonly string[],
  enough: (text: string) => boolean = () => false,
): Promise<Answered> {
  return new Promise((done, fail) => {
    const socket = connect(port, "127.0.0.1");
    let text = "";
    const end = () => {
      socket.destroy();
      const [head = "", ...rest] = text.split("\r\n\r\n");
      done({ status: Number(head.split(" ")[1]), head, body: rest.join("\r\n\r\n") });
    };
    socket.setEncoding("utf8");
    socket.on("data", (part) => {
      text += part;
      if (enough(text)) end();
    });
    socket.on("end", end);
    socket.on("error", fail);
    socket.write(`${lines.join("\r\n")}\r\n\r\n`);
  });
}
