import type { Parts } from "../part.ts";
import { drawOver } from "./over.ts";
import { comparePanel } from "./panel.ts";
import { sideBySide } from "./side.ts";
import { followPlan } from "./state.ts";

export const compareParts: Parts = {
  panels: [comparePanel],
  tools: [],
  starts: [drawOver, sideBySide, followPlan],
};
