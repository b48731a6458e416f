/** What is gathered while one window of the site is drawn. */

import { Clutter } from "./labels/clutter.ts";
import { type LabelPlace, placeLabels } from "./labels/place-labels.ts";
import { ABOVE_EM, BELOW_EM, LETTERS, widthMm } from "./lettering.ts";
import { grown, type Plot } from "./plot.ts";
import { boxShape, type GroupShape, group, line, type Shape } from "./scene.ts";
import type { SheetWords } from "./words.ts";

/** What it costs a label to lie on a thing drawn. */
export const COSTS = { wire: 6, edge: 1.5, dimension: 4, marker: 7, thing: 0.7 } as const;

export interface LabelLine {
  readonly text: string;
  readonly sizeMm?: number;
  readonly bold?: boolean;
}

export interface Label {
  readonly lines: readonly LabelLine[];
  readonly colour?: string | undefined;
  readonly places: (widthMm: number, heightMm: number) => readonly LabelPlace[];
  readonly rank: number;
  readonly isNeeded: boolean;
}

const PAD_MM = 0.35;
const LEADER = { colour: "#000000", widthMm: 0.13 };

/** Layers from the bottom up. */
const LAYERS = [
  "picture",
  "areas",
  "things",
  "edges",
  "passages",
  "wire",
  "dimensions",
  "pegs",
  "stations",
] as const;
export type LayerName = (typeof LAYERS)[number];

export class Canvas {
  readonly plot: Plot;
  readonly words: SheetWords;
  readonly clutter = new Clutter();
  /** Entries of the legend that are needed. */
  readonly used = new Set<string>();
  readonly #layers = new Map<LayerName, Shape[]>();
  readonly #labels: Label[] = [];

  constructor(plot: Plot, words: SheetWords) {
    this.plot = plot;
    this.words = words;
  }

  add(layer: LayerName, ...shapes: readonly Shape[]): void {
    const list = this.#layers.get(layer);
    if (list) list.push(...shapes);
    else this.#layers.set(layer, [...shapes]);
  }

  label(label: Label): void {
    this.#labels.push(label);
  }

  /** Everything drawn, the labels placed on top, and texts of needed labels that found no place. */
  finish(): { readonly shapes: GroupShape[]; readonly unplaced: string[] } {
    const { window } = this.plot;
    const wishes = this.#labels.map(({ lines, places, rank, isNeeded }) => {
      const width = Math.max(...lines.map(lineWidth)) + 2 * PAD_MM;
      const height = lines.reduce((sum, one) => sum + lineHeight(one), 0) + 2 * PAD_MM;
      return { widthMm: width, heightMm: height, places: places(width, height), rank, isNeeded };
    });
    const placed = placeLabels(wishes, this.clutter, grown(window, -1));
    const shapes: Shape[] = [];
    const texts: Shape[] = [];
    const unplaced: string[] = [];
    this.#labels.forEach(({ lines, colour, isNeeded }, i) => {
      const place = placed[i];
      if (!place) {
        if (isNeeded) unplaced.push(lines[0]!.text);
        return;
      }
      if (place.leader) shapes.push(line([...place.leader], LEADER));
      shapes.push(boxShape(place.box, { fill: { colour: "#ffffff", opacity: 0.75 } }));
      let y = place.box.top + PAD_MM;
      for (const one of lines) {
        const sizeMm = one.sizeMm ?? LETTERS.small;
        texts.push({
          kind: "text",
          text: one.text,
          x: place.x,
          y: y + ABOVE_EM * sizeMm,
          sizeMm,
          anchor: "middle",
          bold: one.bold,
          colour,
        });
        y += lineHeight(one);
      }
    });
    const layers = LAYERS.flatMap((name) => {
      const items = this.#layers.get(name);
      return items ? [group(name, items, window)] : [];
    });
    return { shapes: [...layers, group("labels", [...shapes, ...texts])], unplaced };
  }
}

const lineWidth = ({ text, sizeMm = LETTERS.small, bold }: LabelLine) =>
  widthMm(text, sizeMm, bold);
const lineHeight = ({ sizeMm = LETTERS.small }: LabelLine) => sizeMm * (ABOVE_EM + BELOW_EM);
