import type { Panel } from "../part.ts";
import { findingsPanel } from "./findings.ts";
import { layersPanel } from "./layers.ts";
import { materialsPanel } from "./materials.ts";
import { passagesPanel } from "./passages.ts";
import { pegsPanel } from "./pegs.ts";
import { planPanel } from "./plan.ts";
import { printPanel } from "./print.ts";
import { walkPanel } from "./walk.ts";

/** Panels that every plan has. */
export const panels: readonly Panel[] = [
  planPanel,
  layersPanel,
  walkPanel,
  pegsPanel,
  passagesPanel,
  findingsPanel,
  materialsPanel,
  printPanel,
];
