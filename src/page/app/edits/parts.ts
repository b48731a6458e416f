import type { App, Parts } from "../part.ts";
import { drawTool } from "./draw.ts";
import { edgeTool, markStretch } from "./edge-tool.ts";
import { moveTool } from "./move.ts";
import { editPanel } from "./panel.ts";
import { canPlan, plannerOf } from "./planner.ts";
import { reshapeTool } from "./reshape.ts";
import { warmPlanner } from "./warm.ts";

/** Undo and redo by the keys that are usual for them, outside of fields. */
function keys(app: App): void {
  document.addEventListener("keydown", (event) => {
    const isField = event.target instanceof HTMLInputElement;
    if (isField || event.altKey || !(event.ctrlKey || event.metaKey)) return;
    const key = event.key.toLowerCase();
    if (key !== "z" && key !== "y") return;
    event.preventDefault();
    const planner = plannerOf(app);
    if (key === "y" || event.shiftKey) planner.redo();
    else planner.undo();
  });
}

function start(app: App): void {
  if (!canPlan(app)) return;
  keys(app);
  markStretch(app);
  warmPlanner(app);
}

export const editParts: Parts = {
  panels: [editPanel],
  tools: [moveTool, reshapeTool, drawTool, edgeTool],
  starts: [start],
};
