/** The planner as a web worker. Bundled as a script of its own; see `scripts/page-assets.mjs`. */
import { loadEngine } from "../../geometry/engine.ts";
import type { ToWorker } from "./messages.ts";
import { workerLoop } from "./worker-loop.ts";

/** What of a worker's global scope is used. */
interface Scope {
  onmessage: ((event: { readonly data: ToWorker }) => void) | null;
  postMessage(message: unknown): void;
  /** The geometry engine, base64; the build puts it there. */
  readonly PEGLINE_ENGINE: string;
}

const scope = globalThis as unknown as Scope;
const bytes = Uint8Array.from(atob(scope.PEGLINE_ENGINE), (char) => char.charCodeAt(0));

// One message to itself comes after those that wait.
const channel = new MessageChannel();
const waiting: (() => void)[] = [];
channel.port1.addEventListener("message", () => waiting.shift()?.());
channel.port1.start();
const turn = () =>
  new Promise<void>((done) => {
    waiting.push(done);
    channel.port2.postMessage(0);
  });

const hear = workerLoop((message) => scope.postMessage(message), turn);
const ready = loadEngine(bytes);
scope.onmessage = ({ data }) => void ready.then(() => hear(data));
