/** The ground of a plan on paper: areas, things, edges of lawn. */
import type { AreaM } from "../../model/geometry.ts";
import type { Plan } from "../../model/plan.ts";
import type { Site } from "../../model/site.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import { type StyleName, styleNamed } from "../style/plan-style.ts";
import { EDGE_STROKES, LAWN_EDGE, SITE_STYLES, type SiteStyle } from "../style/site-style.ts";
import { type Canvas, COSTS } from "./canvas.ts";
import { dotLines, hatchLines } from "./hatch.ts";
import type { LineMm, Shape } from "./scene.ts";

/** Smaller things are outlines without hatch, square millimetres. */
const HATCH_LEAST_MM2 = 3;

export interface GroundOptions {
  /** Whether a picture lies beneath: then areas let it through. */
  readonly isOverPicture: boolean;
}

export function drawGround(
  canvas: Canvas,
  site: Site,
  plan: Plan,
  ground: PlanOnGround | undefined,
  options: GroundOptions,
): void {
  const styled = (areas: readonly AreaM[], name: StyleName) => drawStyled(canvas, areas, name);
  for (const { areas } of plan.mown) styled(areas, "mown-area");
  for (const { area } of plan.cutOff) styled([area], "cut-off-area");
  styled(plan.handTrim.areas, "hand-trim");
  for (const { area } of ground?.steep ?? []) styled([area], "steep-area");
  for (const loop of plan.loops) {
    styled(
      loop.exclusionLoops.map(({ ring }) => ({ shell: ring, holes: [] })),
      "exclusion-loop",
    );
  }
  drawThings(canvas, site, options);
  drawEdges(canvas, site, ground);
}

function drawStyled(canvas: Canvas, areas: readonly AreaM[], name: StyleName): void {
  const rings = canvas.plot.rings(areas);
  if (rings.length === 0) return;
  const { fill, stroke } = styleNamed(name);
  canvas.used.add(name);
  const shapes: Shape[] = [];
  if (fill) {
    shapes.push({
      kind: "path",
      lines: rings,
      fill: { colour: fill.colour, opacity: fill.opacity },
    });
    const { hatch } = fill;
    for (const angleDeg of hatch?.anglesDeg ?? []) {
      const lines = hatchLines(rings, canvas.plot.window, hatch!.spacingMm, angleDeg);
      if (lines.length > 0) {
        const look = { colour: hatch!.colour, widthMm: hatch!.widthMm };
        shapes.push({ kind: "path", lines, stroke: look });
      }
    }
  }
  if (stroke) shapes.push({ kind: "path", lines: rings, stroke });
  canvas.add("areas", ...shapes);
}

function drawThings(canvas: Canvas, site: Site, { isOverPicture }: GroundOptions): void {
  for (const { role, areas } of site.things) {
    if (!(role in SITE_STYLES)) continue;
    const style = SITE_STYLES[role as keyof typeof SITE_STYLES];
    const rings = canvas.plot.rings(areas);
    if (rings.length === 0) continue;
    canvas.used.add(role);
    canvas.add("things", ...thingShapes(canvas, rings, style, isOverPicture));
    for (const ring of rings) canvas.clutter.addLine(ring.points, true, COSTS.edge);
    // Rows inside, so that what is not about the thing rather stands beside it.
    for (const { points } of hatchLines(rings, canvas.plot.window, 1.5, 0)) {
      canvas.clutter.addLine(points, false, COSTS.thing);
    }
  }
}

function thingShapes(
  { plot: { window } }: Canvas,
  rings: readonly LineMm[],
  { fill, hatch, dots, stroke }: SiteStyle,
  isOverPicture: boolean,
): Shape[] {
  const shapes: Shape[] = [];
  // What lies under a thing does not show through.
  if (!isOverPicture) shapes.push({ kind: "path", lines: rings, fill: { colour: "#ffffff" } });
  if (fill && !isOverPicture) shapes.push({ kind: "path", lines: rings, fill });
  if (rings.some((ring) => sizeMm2(ring) > HATCH_LEAST_MM2)) {
    for (const angleDeg of hatch?.anglesDeg ?? []) {
      const lines = hatchLines(rings, window, hatch!.spacingMm, angleDeg);
      const look = { colour: hatch!.colour, widthMm: 0.13 };
      if (lines.length > 0) shapes.push({ kind: "path", lines, stroke: look });
    }
    if (dots) {
      const lines = dotLines(rings, window, dots.spacingMm);
      const look = { colour: dots.colour, widthMm: dots.sizeMm, round: true };
      if (lines.length > 0) shapes.push({ kind: "path", lines, stroke: look });
    }
  }
  shapes.push({ kind: "path", lines: rings, stroke });
  return shapes;
}

function sizeMm2({ points }: LineMm): number {
  let sum = 0;
  for (let i = 0, j = points.length - 2; i < points.length; j = i, i += 2) {
    sum += points[j]! * points[i + 1]! - points[i]! * points[j + 1]!;
  }
  return Math.abs(sum) / 2;
}

function drawEdges(canvas: Canvas, site: Site, ground: PlanOnGround | undefined): void {
  const { plot, clutter } = canvas;
  for (const { area } of site.lawns) {
    for (const ring of [area.shell, ...area.holes]) {
      const lines = plot.seen(ring, true);
      if (lines.length === 0) continue;
      canvas.used.add("edge");
      canvas.add("edges", { kind: "path", lines, stroke: LAWN_EDGE });
      for (const one of lines) clutter.addLine(one.points, one.closed === true, COSTS.edge);
    }
  }
  for (const { kind, line } of site.edgeLines) {
    const lines = plot.seen(line);
    if (lines.length === 0) continue;
    canvas.used.add(`edge-${kind}`);
    canvas.add("edges", { kind: "path", lines, stroke: EDGE_STROKES[kind] });
    for (const one of lines) clutter.addLine(one.points, false, COSTS.edge);
  }
  for (const fall of ground?.falls ?? []) {
    const lines = plot.seen(fall.line);
    if (lines.length === 0) continue;
    canvas.used.add("edge-fall");
    canvas.add("edges", { kind: "path", lines, stroke: styleNamed("edge-fall").stroke });
  }
}
