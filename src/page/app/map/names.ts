/** Names and numbers on the map. Those for which there is no room are left out, the least first. */
import Feature from "ol/Feature.js";
import Point from "ol/geom/Point.js";
import type Style from "ol/style/Style.js";
import type { PageModel, PageShape } from "../../model/page-model.ts";
import type { Words } from "../../words/words.ts";
import { middleOf } from "./features.ts";
import type { MapStyles } from "./styles.ts";

interface Name {
  readonly text: string;
  readonly size: "small" | "normal" | "large";
  readonly offsetPx: number;
  readonly rank: number;
  /** Metres on the ground of a pixel beyond which it is not shown. */
  readonly untilM: number;
}

/** Names are cut to so many characters on the map. */
const CHARACTERS_MAX = 32;
const cut = (text: string) => {
  const characters = [...text];
  if (characters.length <= CHARACTERS_MAX) return text;
  return `${characters.slice(0, CHARACTERS_MAX - 1).join("")}…`;
};

export function nameFeatures(model: PageModel, words: Words): Feature[] {
  const named = (at: readonly [number, number], name: Name) =>
    new Feature({ geometry: new Point([...at]), name });
  return [
    ...model.shapes.flatMap((shape) => {
      const name = nameOf(shape, model, words);
      return name ? [named(middleOf(shape.place), name)] : [];
    }),
    ...model.pegs.map(({ at, number, reason }, i) =>
      named(at, {
        text: number,
        size: "small",
        offsetPx: 11,
        // Every tenth first, then every fifth: what is left out leaves an even row.
        rank: reason === "station" ? 40 : i % 10 === 9 ? 20 : i % 5 === 4 ? 15 : 10,
        untilM: reason === "station" ? 0.12 : i % 10 === 9 ? 0.08 : i % 5 === 4 ? 0.05 : 0.03,
      }),
    ),
  ];
}

function nameOf(shape: PageShape, model: PageModel, words: Words): Name | undefined {
  const { kind, name } = shape;
  if (kind === "thing" && name !== "") {
    return { text: cut(name), size: "normal", offsetPx: 0, rank: 60, untilM: 0.5 };
  }
  if (kind === "passage") {
    const width = shape.figures.find(({ label }) => label === "figure.width");
    const text = width ? `${name}: ${words.figure(width.value)}` : name;
    return { text, size: "small", offsetPx: 12, rank: 70, untilM: 0.25 };
  }
  if (kind === "station") {
    const text = `${words.t("kind.station")} ${name}`;
    return { text, size: "normal", offsetPx: 19, rank: 90, untilM: 1 };
  }
  if (kind === "mown-area") {
    const text = words.t("loop.name", { loop: shape.loop ?? "" });
    return { text, size: "large", offsetPx: 0, rank: 80, untilM: 2 };
  }
  if (kind === "joint") return { text: name, size: "small", offsetPx: 13, rank: 50, untilM: 0.2 };
  if (kind === "lawn" && model.loops.length === 0) {
    return { text: cut(name), size: "normal", offsetPx: 0, rank: 30, untilM: 1 };
  }
  return undefined;
}

export function nameStyle(feature: Feature, resolutionM: number, styles: MapStyles): Style[] {
  const { text, size, offsetPx, rank, untilM } = feature.get("name") as Name;
  return resolutionM > untilM ? [] : [styles.label(text, size, offsetPx, rank)];
}
