import type { Parts } from "../part.ts";

export const editParts: Parts = { panels: [], tools: [], starts: [] };
