import type { Panel } from "../part.ts";
import { layersPanel } from "./layers.ts";
import { planPanel } from "./plan.ts";

/** Panels that every plan has. */
export const panels: readonly Panel[] = [planPanel, layersPanel];
