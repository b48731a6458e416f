/** Signs for points, drawn as on the sheets. */
import Icon from "ol/style/Icon.js";
import { PALETTE } from "../../../export/style/palette.ts";
import type { PegPlace } from "../../../model/plan.ts";
import type { Look } from "./look.ts";
import { px } from "./pixels.ts";

/** Pictures are drawn this much larger than they are shown, for fine screens and print. */
const FINE = 3;

interface Sign {
  /** Half of the picture's side, millimetres. */
  readonly reachMm: number;
  /** Draws about the origin, in millimetres, y down. */
  draw(context: CanvasRenderingContext2D): void;
}

function iconOf({ reachMm, draw }: Sign, rotation = 0, displacement = [0, 0]): Icon {
  const side = Math.ceil(2 * px(reachMm) * FINE);
  const canvas = document.createElement("canvas");
  canvas.width = side;
  canvas.height = side;
  const context = canvas.getContext("2d")!;
  context.translate(side / 2, side / 2);
  context.scale(px(FINE), px(FINE));
  draw(context);
  return new Icon({ img: canvas, scale: 1 / FINE, rotation, displacement });
}

function paint(context: CanvasRenderingContext2D, fill: string, ink: string, widthMm: number) {
  context.fillStyle = fill;
  context.fill();
  context.strokeStyle = ink;
  context.lineWidth = widthMm;
  context.stroke();
}

function polygon(context: CanvasRenderingContext2D, points: readonly number[]) {
  context.beginPath();
  for (let i = 0; i < points.length; i += 2) context.lineTo(points[i]!, points[i + 1]!);
  context.closePath();
}

function disc(context: CanvasRenderingContext2D, radius: number) {
  context.beginPath();
  context.arc(0, 0, radius, 0, 2 * Math.PI);
}

const INK_MM = 0.3;

/** Straight an open disc, a bend a full one, a pair a diamond, the station's a square. */
export function pegIcon(on: PegPlace, isGuide: boolean, look: Look, size = 1): Icon {
  const paper = look.colour(PALETTE.white);
  const line = INK_MM * look.weight;
  const r = 0.75 * size;
  const ink = isGuide ? look.colour(PALETTE.green) : look.ink;
  return iconOf({
    reachMm: r * 1.5 + line,
    draw: (context) => {
      if (isGuide) polygon(context, [0, -r * 1.2, r * 1.1, r * 0.8, -r * 1.1, r * 0.8]);
      else if (on === "pair")
        polygon(context, [-r * 1.35, 0, 0, -r * 1.35, r * 1.35, 0, 0, r * 1.35]);
      else if (on === "station") polygon(context, [-r, -r, r, -r, r, r, -r, r]);
      else disc(context, on === "bend" ? r * 0.85 : r);
      paint(context, on === "bend" && !isGuide ? ink : paper, ink, line);
    },
  });
}

/** A plate on the wire, and an arrow in the direction in which the machine drives in. */
export function stationIcon(bearingDeg: number, look: Look): Icon {
  const { ink } = look;
  const plate = look.colour(PALETTE.blue);
  return iconOf(
    {
      reachMm: 8.5,
      draw: (context) => {
        polygon(context, [-2, -1.5, 2, -1.5, 2, 1.5, -2, 1.5]);
        paint(context, plate, ink, 0.35 * look.weight);
        context.beginPath();
        context.moveTo(-8, 0);
        context.lineTo(-4, 0);
        context.lineWidth = 0.5 * look.weight;
        context.stroke();
        polygon(context, [-2.6, 0, -5, -1.1, -5, 1.1]);
        context.fillStyle = ink;
        context.fill();
      },
    },
    ((bearingDeg - 90) * Math.PI) / 180,
  );
}

export function optionIcon(look: Look): Icon {
  return iconOf({
    reachMm: 1.8,
    draw: (context) => {
      polygon(context, [-1.3, -1.3, 1.3, -1.3, 1.3, 1.3, -1.3, 1.3]);
      paint(context, look.colour(PALETTE.white), look.colour(PALETTE.blue), 0.35 * look.weight);
    },
  });
}

export function pointIcon(kind: "outlet" | "control" | "joint", look: Look): Icon {
  const paper = look.colour(PALETTE.white);
  const line = INK_MM * look.weight;
  return iconOf({
    reachMm: 2,
    draw: (context) => {
      if (kind === "outlet") disc(context, 1.3);
      else if (kind === "joint") polygon(context, [-1.1, -1.1, 1.1, -1.1, 1.1, 1.1, -1.1, 1.1]);
      else polygon(context, [-1.3, 0.9, 1.3, 0.9, 0, -1.4]);
      paint(context, paper, look.ink, line);
      context.beginPath();
      if (kind === "control") context.arc(0, 0.15, 0.3, 0, 2 * Math.PI);
      else {
        context.moveTo(-0.85, -0.85);
        context.lineTo(0.85, 0.85);
        context.moveTo(-0.85, 0.85);
        context.lineTo(0.85, -0.85);
      }
      context.stroke();
    },
  });
}

/** How far a finding's sign stands off its place, to the right and up, pixels. */
export const FINDING_OFF_PX = 10;

/** A diamond with its mark, up and to the right of its place, so that what stands there is seen. */
export function findingIcon(severity: "warning" | "error", look: Look): Icon {
  const size = { warning: 2, error: 2.5 }[severity];
  const colour = look.colour(severity === "error" ? PALETTE.vermilion : PALETTE.yellow);
  return iconOf(
    {
      reachMm: size + 0.6,
      draw: (context) => {
        polygon(context, [-size, 0, 0, -size, size, 0, 0, size]);
        paint(context, colour, look.ink, INK_MM * look.weight);
        context.fillStyle = look.name === "forced" ? look.ground : "#000000";
        context.fillRect(-0.18, -size * 0.55, 0.36, size * 0.65);
        context.fillRect(-0.18, size * 0.25, 0.36, 0.36);
      },
    },
    0,
    [FINDING_OFF_PX, FINDING_OFF_PX],
  );
}

/** An arrow head along the wire. */
export function arrowIcon(rotation: number, look: Look): Icon {
  return iconOf(
    {
      reachMm: 1.4,
      draw: (context) => {
        polygon(context, [1.1, 0, -0.8, -0.85, -0.8, 0.85]);
        context.fillStyle = look.colour(PALETTE.blue);
        context.fill();
      },
    },
    rotation,
  );
}
