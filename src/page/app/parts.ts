/** All parts of the page. A folder with parts of its own lists them in its own `parts.ts`. */
import { compareParts } from "./compare/parts.ts";
import { editParts } from "./edits/parts.ts";
import { importParts } from "./import/parts.ts";
import { liveParts } from "./live/parts.ts";
import { panels } from "./panels/panels.ts";
import type { Parts } from "./part.ts";
import { tools } from "./tools/tools.ts";

const own: Parts = { panels, tools, starts: [] };
const all = [own, editParts, compareParts, importParts, liveParts];
const byOrder = (a: { readonly order: number }, b: { readonly order: number }) => a.order - b.order;

export const PARTS: Parts = {
  panels: all.flatMap((one) => one.panels).sort(byOrder),
  tools: all.flatMap((one) => one.tools).sort(byOrder),
  starts: all.flatMap((one) => one.starts),
};
