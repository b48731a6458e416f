import type { Parts } from "../part.ts";
import { takeDrops } from "./drop.ts";
import { importPanel } from "./panel.ts";

export const importParts: Parts = { panels: [importPanel], tools: [], starts: [takeDrops] };
