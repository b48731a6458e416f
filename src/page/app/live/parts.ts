import type { Parts } from "../part.ts";
import { live } from "./live.ts";

export const liveParts: Parts = { panels: [], tools: [], starts: [live] };
