/** Serves one page and its events on the loopback address. */
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { jsonText } from "../../src/escape/json.ts";
import { misuse } from "../refusal.ts";
import { codeOfError } from "../results/file-ops.ts";
import { type Ruling, ruleOn } from "./request-gate.ts";

/** What is served now. */
export interface Shown {
  /** Changes when the plan does. */
  readonly version: string;
  /** The page, made when it is asked for. */
  html(): string;
  /** For pages that are open: the plan as a value of JSON. */
  readonly plan: unknown;
}

const HOST = "127.0.0.1";
/** So many requests at once; each open page holds one. */
const CONNECTIONS_MAX = 64;
/** Blank comments show that a page is still there, milliseconds. */
const BREATH_MS = 30_000;

/**
 * For every answer. The page's own policy stands in it too, and may be no looser; only here can be
 * said that no page may frame it.
 */
const HEADERS = {
  "Cache-Control": "no-store",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": "camera=(), microphone=(), geolocation=(self)",
  "Referrer-Policy": "no-referrer",
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
} as const;

export class PageServer {
  readonly #server: Server;
  readonly #policy: string;
  readonly #pages = new Set<ServerResponse>();
  #shown: Shown;
  #trouble: unknown;

  /** @param policy content security policy of the page */
  private constructor(shown: Shown, policy: string) {
    this.#shown = shown;
    this.#policy = policy;
    this.#server = createServer((request, response) => this.#answer(request, response));
    this.#server.maxConnections = CONNECTIONS_MAX;
    setInterval(() => this.#tell(": \n\n"), BREATH_MS).unref();
  }

  /**
   * @param port 0 for any that is free
   * @throws PORT_NOT_FREE
   */
  static async listen(shown: Shown, policy: string, port: number): Promise<PageServer> {
    const made = new PageServer(shown, policy);
    await new Promise<void>((done, fail) => {
      made.#server.once("error", (error) => fail(notFree(port, codeOfError(error))));
      made.#server.listen({ host: HOST, port, exclusive: true }, done);
    });
    return made;
  }

  get port(): number {
    return (this.#server.address() as AddressInfo).port;
  }

  get address(): string {
    return `http://${HOST}:${this.port}/`;
  }

  /** Another plan takes the place of what is shown, in open pages too. */
  show(shown: Shown): void {
    this.#shown = shown;
    this.#trouble = undefined;
    this.#tell(planEvent(shown));
  }

  /** What keeps a newer plan from being made; the last good one stays. */
  hinder(trouble: unknown): void {
    this.#trouble = trouble;
    this.#tell(event("trouble", trouble));
  }

  /** Ends all that is open. */
  close(): Promise<void> {
    for (const page of this.#pages) page.end();
    return new Promise((done) => {
      this.#server.close(() => done());
      this.#server.closeAllConnections();
    });
  }

  #answer(request: IncomingMessage, response: ServerResponse): void {
    const { method, url: target, rawHeaders } = request;
    const ruling = ruleOn({ method, target, rawHeaders }, this.port);
    request.resume();
    if (ruling.answer === "refused") refuse(response, ruling);
    else if (ruling.answer === "page") this.#servePage(response, method === "HEAD");
    else this.#serveEvents(response, method === "HEAD", ruling.have);
  }

  #servePage(response: ServerResponse, isHead: boolean): void {
    response.writeHead(200, {
      ...HEADERS,
      "Content-Type": "text/html; charset=utf-8",
      "Content-Security-Policy": `${this.#policy}; frame-ancestors 'none'`,
    });
    response.end(isHead ? undefined : this.#shown.html());
  }

  #serveEvents(response: ServerResponse, isHead: boolean, have: string | undefined): void {
    response.writeHead(200, { ...HEADERS, "Content-Type": "text/event-stream" });
    if (isHead) {
      response.end();
      return;
    }
    response.write("retry: 1000\n\n");
    if (have !== this.#shown.version) response.write(planEvent(this.#shown));
    if (this.#trouble !== undefined) response.write(event("trouble", this.#trouble));
    this.#pages.add(response);
    response.on("close", () => this.#pages.delete(response));
  }

  #tell(text: string): void {
    for (const page of this.#pages) page.write(text);
  }
}

function refuse(response: ServerResponse, { status, says }: Ruling & { answer: "refused" }): void {
  response.writeHead(status, {
    ...HEADERS,
    "Content-Type": "text/plain; charset=utf-8",
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
    ...(status === 405 && { Allow: "GET, HEAD" }),
    Connection: "close",
  });
  response.end(`${says}\n`);
}

/** JSON holds no line feed, so that it is one line of data (HTML Living Standard, 9.2). */
const event = (name: string, value: unknown, id?: string): string =>
  `event: ${name}\n${id === undefined ? "" : `id: ${id}\n`}data: ${jsonText(value)}\n\n`;

const planEvent = ({ version, plan }: Shown): string => event("plan", plan, version);

function notFree(port: number, code: string | undefined): Error {
  const why = code === "EADDRINUSE" ? "is taken by another program" : `cannot be had (${code})`;
  return misuse(
    "PORT_NOT_FREE",
    port === 0 ? `A port on ${HOST} cannot be had (${code}).` : `Port ${port} ${why}.`,
    "Name another one with --port, or leave it out to have a free one.",
  );
}
