/** Tints, hatches and dots as patterns that repeat without a seam. */
import type { Look } from "./look.ts";
import { px } from "./pixels.ts";

export interface Filling {
  readonly fill?: { readonly colour: string; readonly opacity: number } | undefined;
  readonly hatch?:
    | {
        readonly colour: string;
        readonly spacingMm: number;
        readonly anglesDeg: readonly number[];
      }
    | undefined;
  readonly dots?:
    | { readonly colour: string; readonly spacingMm: number; readonly sizeMm: number }
    | undefined;
}

const HATCH_MM = 0.16;
const HATCH_OPACITY = 0.55;

/**
 * @param ratio device pixels in a CSS pixel: a pattern is laid in device pixels
 * @returns a colour where there is nothing but a tint
 */
export function fillOf(
  { fill, hatch, dots }: Filling,
  look: Look,
  ratio: number,
): string | CanvasPattern {
  const tint = fill ? withOpacity(look.colour(fill.colour), fill.opacity * look.tint) : undefined;
  if (!hatch && !dots) return tint ?? "rgba(0,0,0,0)";
  const isSlanted = hatch?.anglesDeg.some((angle) => angle % 90 !== 0) === true;
  const spacing = px(hatch?.spacingMm ?? dots!.spacingMm) * ratio;
  const side = Math.max(4, Math.round(spacing * (isSlanted ? Math.SQRT2 : 1)));
  const canvas = document.createElement("canvas");
  canvas.width = side;
  canvas.height = side;
  const context = canvas.getContext("2d")!;
  if (tint) {
    context.fillStyle = tint;
    context.fillRect(0, 0, side, side);
  }
  if (hatch) {
    context.strokeStyle = look.colour(hatch.colour);
    context.globalAlpha = HATCH_OPACITY;
    context.lineWidth = Math.max(1, px(HATCH_MM) * ratio * look.weight);
    for (const angle of hatch.anglesDeg) drawLine(context, side, angle);
  }
  if (dots) {
    context.fillStyle = look.colour(dots.colour);
    const radius = Math.max(0.6, (px(dots.sizeMm) * ratio) / 2);
    // Each second row stands between the dots of the first.
    for (const [x, y] of [
      [side / 4, side / 4],
      [(3 * side) / 4, (3 * side) / 4],
    ] as const) {
      context.beginPath();
      context.arc(x, y, radius, 0, 2 * Math.PI);
      context.fill();
    }
  }
  return context.createPattern(canvas, "repeat") ?? tint ?? "rgba(0,0,0,0)";
}

/** One direction of a hatch over the tile, with what reaches in from its neighbours. */
function drawLine(context: CanvasRenderingContext2D, side: number, angleDeg: number): void {
  context.beginPath();
  for (const shift of [-side, 0, side]) {
    if (angleDeg === 0) {
      context.moveTo(0, side / 2 + shift);
      context.lineTo(side, side / 2 + shift);
    } else if (angleDeg === 90) {
      context.moveTo(side / 2 + shift, 0);
      context.lineTo(side / 2 + shift, side);
    } else if (angleDeg === 45) {
      context.moveTo(shift - 1, side + 1);
      context.lineTo(shift + side + 1, -1);
    } else {
      context.moveTo(shift - 1, -1);
      context.lineTo(shift + side + 1, side + 1);
    }
  }
  context.stroke();
}

/** `#rrggbb` or `rgb(…)` with an opacity. */
export function withOpacity(colour: string, opacity: number): string {
  const hex = /^#([0-9a-f]{6})$/i.exec(colour);
  if (hex) {
    const value = Number.parseInt(hex[1]!, 16);
    return `rgba(${value >> 16},${(value >> 8) & 255},${value & 255},${opacity})`;
  }
  const numbers = colour.match(/[\d.]+/g)?.slice(0, 3) ?? ["0", "0", "0"];
  return `rgba(${numbers.join(",")},${opacity})`;
}
