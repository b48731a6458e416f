/** Thread that plans plots, one after the other. It loads the planner once. */
import { parentPort, workerData } from "node:worker_threads";
import { faultyRecord } from "../src/batch/faulty-record.ts";
import { plotOfPosted } from "../src/batch/plot.ts";
import { loadEngine } from "../src/geometry/engine.ts";
import { planPlot } from "../src/jobs/plan-plot.ts";
import type { PlotSetting, PlotTask } from "./batch/plot-task.ts";
import { epsgRegistry } from "./epsg-registry.ts";

const { form, options } = workerData as PlotSetting;
const port = parentPort!;

port.on("message", async (task: PlotTask) => {
  const plot = "posted" in task ? plotOfPosted(task.posted) : task.file;
  try {
    const done = await planPlot(plot, form, { ...options, registry: epsgRegistry });
    port.postMessage({ done, spent: false });
  } catch (error) {
    // What the engine holds in its own memory may be in any state now.
    port.postMessage({ done: faultyRecord(plot, form, String(error)), spent: true });
  }
});

loadEngine().then(() => port.postMessage("ready"));
