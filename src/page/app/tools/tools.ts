import { ICONS } from "../icons.ts";
import type { Tool } from "../part.ts";
import { areaTool, distanceTool } from "./measure.ts";
import { positionTool } from "./position.ts";

const zoomIn: Tool = {
  id: "zoom-in",
  label: "tool.zoomIn",
  icon: ICONS.plus,
  order: 10,
  press: ({ map }) => map.zoomBy(1.6),
};

const zoomOut: Tool = {
  id: "zoom-out",
  label: "tool.zoomOut",
  icon: ICONS.minus,
  order: 11,
  press: ({ map }) => map.zoomBy(1 / 1.6),
};

const all: Tool = {
  id: "all",
  label: "tool.all",
  icon: ICONS.all,
  order: 12,
  press: ({ map }) => map.showAll(),
};

/** Tools that every plan has. */
export const tools: readonly Tool[] = [zoomIn, zoomOut, all, distanceTool, areaTool, positionTool];
