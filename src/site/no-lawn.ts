import type { GridLayer } from "../model/features.ts";
import type { Problem } from "../model/finding.ts";
import type { Role } from "../model/roles.ts";
import { counted } from "./notes.ts";
import type { RawShape } from "./sort-features.ts";

/** A table of survey points may hold as many layers as codes. */
const LAYERS_SHOWN = 12;

/** Letters of a layer's name that are shown. */
const NAME_SHOWN = 60;

const shortName = (name: string) =>
  name.length > NAME_SHOWN ? `${name.slice(0, NAME_SHOWN)}…` : name;

/** Why there is nothing to mow, with the layers and what was taken for what in each. */
export function noLawn(layers: readonly GridLayer[], shapes: readonly RawShape[]): Problem {
  const found = layers.map((layer) => {
    const roles = new Map<string, number>();
    for (const shape of shapes) {
      if (shape.source.file !== layer.file || shape.source.layer !== layer.layer) continue;
      const role = shape.assigned.role ?? "no role";
      roles.set(role, (roles.get(role) ?? 0) + 1);
    }
    const list = [...roles].map(([role, count]) => `${count} ${role}`).join(", ");
    return `"${shortName(layer.layer)}" (${counted(layer.features.length, "feature")}${list ? `: ${list}` : ", nothing of use"})`;
  });
  const types = new Set(layers.flatMap((l) => l.features.map((f) => f.geometry?.type ?? "null")));
  const onlyPoints = types.size > 0 && [...types].every((t) => t === "Point" || t === "MultiPoint");
  const given = shapes.some((shape) => shape.assigned.role === ("lawn" satisfies Role));
  const example = (layers.length === 1 ? shortName(layers[0]!.layer) : undefined) ?? "LAYER";
  const file = layers.length > 0 ? { file: layers[0]!.file } : {};
  const more = found.length - LAYERS_SHOWN;
  const shown = found.slice(0, LAYERS_SHOWN).join("; ");
  const layerList = more > 0 ? `${shown}; and ${more} more` : shown || "none";
  if (onlyPoints) {
    return {
      code: "NO_LAWN",
      kind: "input",
      message: `There are only points, and a lawn is an area. Layers: ${layerList}.`,
      remedy: "Draw the outline of each lawn as a polygon, or export polygons instead of points.",
      ...file,
    };
  }
  if (given) {
    return {
      code: "NO_LAWN",
      kind: "input",
      message: `Lawns are there, but none encloses an area that can be used (see the findings). Layers: ${layerList}.`,
      remedy: "Redraw the outlines that the findings name.",
      ...file,
    };
  }
  return {
    code: "NO_LAWN",
    kind: "input",
    message: `Nothing here is lawn. Layers: ${layerList}.`,
    remedy: `Say which layer is lawn, e.g. --role "${example}=lawn", or give lawn features the attribute role = lawn.`,
    ...file,
  };
}
