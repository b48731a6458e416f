/** What the lines, areas and signs on the map mean: those that are on it, drawn as they are there. */
import LineString from "ol/geom/LineString.js";
import Point from "ol/geom/Point.js";
import Polygon from "ol/geom/Polygon.js";
import { toContext } from "ol/render.js";
import type { PageModel, PageShape } from "../../model/page-model.ts";
import type { Words } from "../../words/words.ts";
import { h } from "../dom.ts";
import type { Subject } from "../map/styles.ts";
import { FINDING_OFF_PX } from "../map/symbols.ts";
import type { App } from "../part.ts";

const SIZE = [46, 26] as const;
/** As at a near look, in which pegs have their full size. */
const RESOLUTION_M = 0.02;

interface Entry {
  readonly subject: Subject;
  readonly label: string;
}

export function legend(app: App): HTMLElement {
  const { model, words } = app.store.state;
  return h(
    "section",
    { class: "legend" },
    h("h2", {}, words.t("legend.title")),
    h(
      "ul",
      {},
      ...entries(model, words).map(({ subject, label }) =>
        h("li", {}, sample(app, subject), h("span", {}, label)),
      ),
    ),
  );
}

function entries(model: PageModel, words: Words): Entry[] {
  const found = new Map<string, Entry>();
  for (const shape of model.shapes) {
    const { key, label } = meaning(shape, words);
    if (!found.has(key)) found.set(key, { subject: { of: "shape", shape: level(shape) }, label });
  }
  for (const peg of model.pegs) {
    const key = `peg ${peg.wire} ${peg.wire === "guide" ? "" : peg.reason}`;
    const label =
      peg.wire === "guide"
        ? words.t("legend.guidePeg")
        : `${words.t("kind.peg")}: ${words.t(`place.${peg.reason}`)}`;
    if (!found.has(key)) found.set(key, { subject: { of: "peg", peg }, label });
  }
  for (const finding of model.findings) {
    const { severity, at } = finding;
    if (severity === "info" || !at || found.has(severity)) continue;
    found.set(severity, {
      subject: { of: "finding", finding },
      label: words.t(`severity.${severity}`),
    });
  }
  return [...found.values()].reverse();
}

function meaning(shape: PageShape, words: Words): { key: string; label: string } {
  const { kind, role, edge, verdict } = shape;
  if (kind === "thing") return { key: `thing ${role}`, label: words.t(`role.${role!}`) };
  if (kind === "edge-line") {
    return {
      key: `edge ${edge}`,
      label: `${words.t("kind.edge-line")}: ${words.t(`edge.${edge!}`)}`,
    };
  }
  if (kind === "passage") {
    const label = `${words.t("kind.passage")}: ${words.t(`verdict.${verdict!}`)}`;
    return { key: `passage ${verdict}`, label };
  }
  return { key: kind, label: words.t(`kind.${kind}`) };
}

/** A station that drives in to the east, so that its arrow lies along the sample. */
const level = (shape: PageShape): PageShape =>
  shape.bearingDeg === undefined ? shape : { ...shape, bearingDeg: 90 };

function sample(app: App, subject: Subject): HTMLCanvasElement {
  const canvas = h("canvas", { "aria-hidden": "true" });
  const [width, height] = SIZE;
  const context = toContext(canvas.getContext("2d")!, {
    size: [width, height],
    pixelRatio: devicePixelRatio,
  });
  const off = subject.of === "finding" ? FINDING_OFF_PX : 0;
  const middle = [width / 2 - off, height / 2 + off];
  const form = subject.of === "shape" ? subject.shape.place.form : "point";
  const isStation = subject.of === "shape" && subject.shape.kind === "station";
  const geometry =
    form === "area"
      ? new Polygon([
          [
            [3, 3],
            [width - 3, 3],
            [width - 3, height - 3],
            [3, height - 3],
            [3, 3],
          ],
        ])
      : form === "line"
        ? new LineString([
            [3, height / 2],
            [width - 3, height / 2],
          ])
        : new Point(isStation ? [width - 11, height / 2] : middle);
  for (const style of app.map.styles.of(subject, RESOLUTION_M)) {
    context.setStyle(style);
    context.drawGeometry(geometry);
  }
  return canvas;
}
