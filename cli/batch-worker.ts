/** What a worker of a batch begins with, as `pegline.ts`. */
import { runBundled } from "./code-cache.ts";

runBundled(import.meta.dirname, "plot-worker.js");
