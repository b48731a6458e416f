/** Names and numbers on the map. Those for which there is no room are left out, the least first. */
import Feature from "ol/Feature.js";
import Point from "ol/geom/Point.js";
import type Style from "ol/style/Style.js";
import type { DrawnModel, PageShape } from "../../model/page-model.ts";
import type { Words } from "../../words/words.ts";
import { middleOf } from "./features.ts";
import type { MapStyles } from "./styles.ts";

interface Name {
  readonly text: string;
  readonly size: "small" | "normal" | "large";
  /** From its place to the middle or the near end of the text, CSS pixels, y down. */
  readonly offset: readonly [number, number];
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

/** Numbers of pegs stand off the wire, on the side of the lawn, which lies to the left. */
const PEG_OFFSET_PX = 12;

function pegOffsets(model: DrawnModel): Map<string, readonly [number, number]> {
  const offsets = new Map<string, readonly [number, number]>();
  for (const { stops } of model.walks) {
    stops.forEach(({ peg }, i) => {
      const before = stops[Math.max(0, i - 1)]!.at;
      const after = stops[Math.min(stops.length - 1, i + 1)]!.at;
      const [e, n] = [after[0] - before[0], after[1] - before[1]];
      const length = Math.hypot(e, n);
      if (length === 0 || offsets.has(peg)) return;
      // To the left of (e, n) lies (-n, e); on the screen y points down.
      offsets.set(peg, [(-n / length) * PEG_OFFSET_PX, (-e / length) * PEG_OFFSET_PX]);
    });
  }
  return offsets;
}

export function nameFeatures(model: DrawnModel, words: Words): Feature[] {
  const offsets = pegOffsets(model);
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
        offset: offsets.get(number) ?? [0, -PEG_OFFSET_PX],
        // Every tenth first, then every fifth: what is left out leaves an even row.
        rank: reason === "station" ? 40 : i % 10 === 9 ? 20 : i % 5 === 4 ? 15 : 10,
        untilM: reason === "station" ? 0.12 : i % 10 === 9 ? 0.08 : i % 5 === 4 ? 0.05 : 0.03,
      }),
    ),
  ];
}

function nameOf(shape: PageShape, model: DrawnModel, words: Words): Name | undefined {
  const { kind, name } = shape;
  if (kind === "thing" && name !== "") {
    return { text: cut(name), size: "normal", offset: [0, 0], rank: 60, untilM: 0.5 };
  }
  if (kind === "passage") {
    const width = shape.figures.find(({ label }) => label === "figure.width");
    const text = width ? `${name}: ${words.figure(width.value)}` : name;
    return { text, size: "small", offset: [0, -12], rank: 70, untilM: 0.25 };
  }
  if (kind === "station") {
    const text = `${words.t("kind.station")} ${name}`;
    return { text, size: "normal", offset: [0, -19], rank: 90, untilM: 1 };
  }
  if (kind === "mown-area") {
    const text = words.t("loop.name", { loop: shape.loop ?? "" });
    return { text, size: "large", offset: [0, 0], rank: 80, untilM: 2 };
  }
  if (kind === "joint")
    return { text: name, size: "small", offset: [0, -13], rank: 50, untilM: 0.2 };
  if (kind === "lawn" && model.loops.length === 0) {
    return { text: cut(name), size: "normal", offset: [0, 0], rank: 30, untilM: 1 };
  }
  return undefined;
}

export function nameStyle(feature: Feature, resolutionM: number, styles: MapStyles): Style[] {
  const { text, size, offset, rank, untilM } = feature.get("name") as Name;
  return resolutionM > untilM ? [] : [styles.label(text, size, offset, rank)];
}
