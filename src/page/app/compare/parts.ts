import type { Parts } from "../part.ts";

export const compareParts: Parts = { panels: [], tools: [], starts: [] };
