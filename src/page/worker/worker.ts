/** The planner as a web worker. Bundled as a script of its own; see `scripts/page-assets.mjs`. */
import { config } from "zod";
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

// The page's policy lets no code be made from text, which zod would try.
config({ jitless: true });

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
const fault = (error: Error) => scope.postMessage({ type: "fault", id: 0, message: error.message });
scope.onmessage = ({ data }) => void ready.then(() => hear(data)).catch(fault);
