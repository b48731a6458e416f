import { describe, expect, it } from "vitest";
import { channelsOf, PALETTE } from "../../src/export/style/palette.ts";
import {
  type FeatureStyle,
  PLAN_STYLES,
  STYLE_NAMES,
  styleNameOf,
} from "../../src/export/style/plan-style.ts";

const styles: readonly (readonly [string, FeatureStyle])[] = STYLE_NAMES.map((name) => [
  name,
  PLAN_STYLES[name],
]);

/** sRGB to linear light (IEC 61966-2-1). */
const linear = (value: number) =>
  value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4;

const luminance = (rgb: readonly number[]) =>
  0.2126 * linear(rgb[0]!) + 0.7152 * linear(rgb[1]!) + 0.0722 * linear(rgb[2]!);

/** Contrast of two colours (WCAG 2.1, "contrast ratio"). */
const contrast = (a: string, b: string) => {
  const [x, y] = [luminance(channelsOf(a)), luminance(channelsOf(b))];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
};

/** Machado, Oliveira and Fernandes (2009), severity 1.0; from memory, rows sum to 1. */
const SIGHT = {
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
} as const;

/** Difference of two colours in CIELAB (CIE 1976, D65) as someone with such sight has it. */
function difference(a: string, b: string, sight: readonly (readonly number[])[]): number {
  const lab = (colour: string) => {
    const rgb = channelsOf(colour).map(linear);
    const [r, g, bl] = sight.map((row) =>
      Math.min(1, Math.max(0, row[0]! * rgb[0]! + row[1]! * rgb[1]! + row[2]! * rgb[2]!)),
    ) as [number, number, number];
    const f = (t: number) => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
    const x = f((0.4124 * r + 0.3576 * g + 0.1805 * bl) / 0.9505);
    const y = f(0.2126 * r + 0.7152 * g + 0.0722 * bl);
    const z = f((0.0193 * r + 0.1192 * g + 0.9505 * bl) / 1.089);
    return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
  };
  const [p, q] = [lab(a), lab(b)];
  return Math.hypot(p[0]! - q[0]!, p[1]! - q[1]!, p[2]! - q[2]!);
}

/** What is left of a style in black and white. */
const withoutColour = (style: FeatureStyle) =>
  JSON.stringify([
    style.stroke && [style.stroke.widthMm, style.stroke.dashMm],
    style.fill && [style.fill.hatch?.spacingMm, style.fill.hatch?.anglesDeg],
    style.marker && [style.marker.shape, style.marker.sizeMm],
  ]);

describe("the style of a plan", () => {
  it("is told apart without any colour", () => {
    const plain = styles.map(([, style]) => withoutColour(style));
    expect(new Set(plain).size).toBe(styles.length);
  });

  it("has no two colours that look the same to anyone", () => {
    const colours = Object.values(PALETTE);
    for (const [name, sight] of Object.entries(SIGHT)) {
      for (const row of sight) expect(row.reduce<number>((a, b) => a + b, 0)).toBeCloseTo(1, 5);
      for (const [i, a] of colours.entries()) {
        for (const b of colours.slice(i + 1)) {
          // 10 units of CIELAB are seen at once, side by side; 2.3 is just seen.
          expect(difference(a, b, sight), `${a} ${b} ${name}`).toBeGreaterThan(10);
        }
      }
    }
  });

  it("draws wire and markers that stand out from white paper", () => {
    // WCAG 2.1, criterion 1.4.11: graphics that one must see, 3 : 1 against what is beside them.
    for (const name of ["boundary-wire", "guide-wire", "edge-fall", "passage-shut"] as const) {
      expect(contrast(PLAN_STYLES[name].stroke.colour, PALETTE.white), name).toBeGreaterThan(3);
    }
    for (const [name, { marker }] of styles) {
      if (marker) expect(contrast(marker.stroke.colour, PALETTE.white), name).toBeGreaterThan(3);
    }
  });

  it("names the style of every kind, passages by verdict and findings by severity", () => {
    expect(styleNameOf({ kind: "peg" })).toBe("peg");
    expect(styleNameOf({ kind: "passage", verdict: "shut" })).toBe("passage-shut");
    expect(styleNameOf({ kind: "finding", severity: "error" })).toBe("finding-error");
    expect(styleNameOf({ kind: "toString" })).toBeUndefined();
  });
});
