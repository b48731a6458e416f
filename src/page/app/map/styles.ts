/** How each thing is drawn on the map: the drawings' styles, in the look of the reader. */
import type Feature from "ol/Feature.js";
import Point from "ol/geom/Point.js";
import CircleStyle from "ol/style/Circle.js";
import Fill from "ol/style/Fill.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import Text from "ol/style/Text.js";
import { PALETTE } from "../../../export/style/palette.ts";
import { type StyleName, styleNamed } from "../../../export/style/plan-style.ts";
import { EDGE_STROKES, LAWN_EDGE, SITE_STYLES } from "../../../export/style/site-style.ts";
import type { PageFinding, PagePeg, PageShape } from "../../model/page-model.ts";
import { type Filling, fillOf } from "./hatch.ts";
import type { Look } from "./look.ts";
import { px } from "./pixels.ts";
import { arrowIcon, findingIcon, optionIcon, pegIcon, pointIcon, stationIcon } from "./symbols.ts";

/** What a feature of the map stands for. */
export type Subject =
  | { readonly of: "shape"; readonly shape: PageShape }
  | { readonly of: "peg"; readonly peg: PagePeg }
  | { readonly of: "finding"; readonly finding: PageFinding };

interface Line {
  readonly colour: string;
  readonly widthMm: number;
  readonly dashMm?: readonly number[] | undefined;
}

/** Metres on the ground of a CSS pixel beyond which pegs are dots, and beyond which they are left out. */
const PEGS_SMALL_M = 0.07;
const PEGS_NONE_M = 0.15;
/** Distance of arrows along the wire, CSS pixels. */
const ARROW_EVERY_PX = 150;

export class MapStyles {
  readonly look: Look;
  readonly #ratio: number;
  readonly #known = new Map<string, Style[]>();

  /** @param ratio device pixels in a CSS pixel */
  constructor(look: Look, ratio: number) {
    this.look = look;
    this.#ratio = ratio;
  }

  of(subject: Subject, resolutionM: number): Style[] {
    if (subject.of === "peg") return this.#peg(subject.peg, resolutionM);
    if (subject.of === "finding") return this.#finding(subject.finding);
    return this.#shape(subject.shape);
  }

  #shape(shape: PageShape): Style[] {
    switch (shape.kind) {
      case "lawn":
        return this.#kept("lawn", () => [
          this.#area({ fill: { colour: PALETTE.green, opacity: 0.06 } }, LAWN_EDGE),
        ]);
      case "thing": {
        const style = SITE_STYLES[shape.role as keyof typeof SITE_STYLES];
        return this.#kept(`thing ${shape.role}`, () => [this.#area(style, style.stroke)]);
      }
      case "run-ground":
        return this.#kept(`run-ground ${shape.verdict}`, () => [
          this.#area(
            {
              fill: { colour: PALETTE.vermilion, opacity: shape.verdict === "shut" ? 0.14 : 0.07 },
            },
            { colour: PALETTE.vermilion, widthMm: 0.35, dashMm: [1.2, 0.8] },
          ),
        ]);
      case "edge-line":
        return this.#kept(`edge ${shape.edge}`, () => [this.#line(EDGE_STROKES[shape.edge!])]);
      case "passage":
        return this.#named(`passage-${shape.verdict!}`);
      case "paired-run":
        return this.#kept("pairs", () => [
          this.#line({ colour: PALETTE.blue, widthMm: 1.5 }),
          this.#line({ colour: PALETTE.white, widthMm: 0.6 }),
        ]);
      case "outlet":
      case "control":
      case "joint": {
        const { kind } = shape;
        return this.#kept(kind, () => [new Style({ image: pointIcon(kind, this.look) })]);
      }
      case "station":
        return this.#kept(`station ${shape.bearingDeg}`, () => [
          new Style({ image: stationIcon(shape.bearingDeg ?? 0, this.look), zIndex: 5 }),
        ]);
      case "station-option":
        return this.#kept("option", () => [new Style({ image: optionIcon(this.look) })]);
      default:
        return this.#named(shape.kind);
    }
  }

  #named(name: StyleName): Style[] {
    return this.#kept(name, () => {
      const { fill, stroke } = styleNamed(name);
      if (!fill) return [this.#line(stroke!)];
      return [this.#area({ fill, hatch: fill.hatch }, stroke)];
    });
  }

  #peg(peg: PagePeg, resolutionM: number): Style[] {
    if (resolutionM > PEGS_NONE_M && peg.reason !== "station") return [];
    const isSmall = resolutionM > PEGS_SMALL_M;
    return this.#kept(`peg ${peg.reason} ${peg.wire} ${isSmall}`, () => [
      new Style({
        image: pegIcon(peg.reason, peg.wire === "guide", this.look, isSmall ? 0.5 : 1),
        zIndex: peg.reason === "station" ? 2 : 1,
      }),
    ]);
  }

  /** Notes are many and are listed: on the map one shows where it is chosen. */
  #finding({ severity }: PageFinding): Style[] {
    if (severity === "info") return [];
    return this.#kept(`finding ${severity}`, () => [
      new Style({
        image: findingIcon(severity, this.look),
        zIndex: severity === "error" ? 3 : 2,
      }),
    ]);
  }

  /** Round what is selected; what it is itself is drawn over it. */
  halo(subject: Subject, resolutionM: number): Style[] {
    const { selected } = this.look;
    const isPoint = subject.of !== "shape" || subject.shape.place.form === "point";
    const own = this.of(subject, resolutionM);
    if (isPoint) {
      const ring = this.#kept("halo point", () => [
        new Style({
          image: ringIcon(selected),
          zIndex: 0,
        }),
      ]);
      const shown = own.length > 0 ? own : subject.of === "peg" ? this.#peg(subject.peg, 0) : own;
      return [...ring, ...shown];
    }
    const line = this.#kept("halo line", () => [
      new Style({ stroke: new Stroke({ color: selected, width: px(2.4), lineCap: "round" }) }),
    ]);
    return [...line, ...own];
  }

  /** Arrow heads along a wire, in the direction of laying. */
  arrows(line: readonly number[], resolutionM: number): Style[] {
    const every = ARROW_EVERY_PX * resolutionM;
    const styles: Style[] = [];
    let next = every / 2;
    let along = 0;
    for (let i = 0; i + 3 < line.length; i += 2) {
      const [ax, ay, bx, by] = line.slice(i, i + 4) as [number, number, number, number];
      const length = Math.hypot(bx - ax, by - ay);
      if (along + length >= next && length > 0) {
        const share = (next - along) / length;
        styles.push(
          new Style({
            geometry: new Point([ax + share * (bx - ax), ay + share * (by - ay)]),
            image: arrowIcon(-Math.atan2(by - ay, bx - ax), this.look),
          }),
        );
        next = along + length + every;
      }
      along += length;
    }
    return styles;
  }

  /** A name or a number; where there is no room for all, those of lower rank go first. */
  label(
    text: string,
    size: "small" | "normal" | "large",
    [offsetX, offsetY]: readonly [number, number],
    rank: number,
  ): Style {
    const { ink, halo, weight } = this.look;
    const height = { small: 11, normal: 12.5, large: 15 }[size];
    const bold = size === "large" || weight > 1 ? "600 " : "";
    return new Style({
      text: new Text({
        text,
        font: `${bold}${height}px ${LETTERING}`,
        fill: new Fill({ color: ink }),
        stroke: new Stroke({ color: halo, width: 3.5 }),
        offsetX,
        offsetY,
        textAlign: offsetX > 6 ? "left" : offsetX < -6 ? "right" : "center",
        overflow: true,
      }),
      zIndex: rank,
    });
  }

  #area(filling: Filling, stroke: Line | undefined): Style {
    return new Style({
      fill: new Fill({ color: fillOf(filling, this.look, this.#ratio) }),
      ...(stroke && { stroke: this.#stroke(stroke) }),
    });
  }

  #line(line: Line): Style {
    return new Style({ stroke: this.#stroke(line) });
  }

  #stroke({ colour, widthMm, dashMm }: Line): Stroke {
    return new Stroke({
      color: this.look.colour(colour),
      width: Math.max(0.8, px(widthMm) * this.look.weight),
      ...(dashMm && { lineDash: dashMm.map((mm) => px(mm)), lineCap: "butt" as const }),
    });
  }

  #kept(key: string, make: () => Style[]): Style[] {
    const known = this.#known.get(key);
    if (known) return known;
    const made = make();
    this.#known.set(key, made);
    return made;
  }
}

export const LETTERING = 'system-ui, "Segoe UI", Roboto, "Liberation Sans", Arial, sans-serif';

function ringIcon(colour: string) {
  return new CircleStyle({
    radius: 13,
    stroke: new Stroke({ color: colour, width: 4 }),
    fill: new Fill({ color: "rgba(255,255,255,0.01)" }),
  });
}

/** What a feature stands for; undefined for those of tools. */
export const subjectOf = (feature: Feature): Subject | undefined => feature.get("subject");
