/** The sheets of a print: the map drawn again, true to scale, with what names it below. */

import type BaseLayer from "ol/layer/Base.js";
import VectorLayer from "ol/layer/Vector.js";
import OlMap from "ol/Map.js";
import View from "ol/View.js";
import { append, fill, h, icon } from "../dom.ts";
import { LAYER_NAMES } from "../map/layer-names.ts";
import { LIGHT } from "../map/look.ts";
import { PX_PER_MM } from "../map/pixels.ts";
import type { MapStyles } from "../map/styles.ts";
import { cautions, totals } from "../panels/plan-parts.ts";
import type { App } from "../part.ts";
import { type PrintLayout, printedBar } from "./layout.ts";

/** Dots of the picture of the map in a CSS pixel: 288 dots an inch. */
const FINE = 3;

/** Fills the paper with the sheets of a layout; what was there goes. */
export function makeSheets(app: App, paper: HTMLElement, layout: PrintLayout): void {
  const { model, words } = app.store.state;
  const styles = app.map.stylesIn(LIGHT, FINE);
  fill(paper);
  paper.className = `paper ${layout.paper}-${layout.isLying ? "lying" : "upright"}`;
  layout.centres.forEach((centre, i) => {
    const window = h("div", { class: "print-map" });
    const [width, height] = layout.windowMm;
    window.style.width = `${width}mm`;
    window.style.height = `${height}mm`;
    const sheet = h(
      "section",
      { class: "sheet" },
      window,
      strip(app, layout, i + 1, layout.centres.length),
    );
    sheet.style.width = `${layout.widthMm}mm`;
    sheet.style.height = `${layout.heightMm}mm`;
    paper.append(sheet);
    window.append(
      picture(app, styles, layout, centre),
      h("div", { class: "print-north" }, "N", icon("M12 3l5 17-5-4-5 4z")),
    );
  });
  append(
    paper,
    h(
      "section",
      { class: "sheet notes" },
      h("h1", {}, model.siteName),
      totals(model, words),
      cautions(model, words),
    ),
  );
}

/** The map of one sheet as a picture. */
function picture(
  app: App,
  styles: MapStyles,
  { scale, windowMm }: PrintLayout,
  centre: readonly [number, number],
): HTMLCanvasElement {
  const size = windowMm.map((mm) => Math.round(mm * PX_PER_MM)) as [number, number];
  const target = h("div", { class: "print-stage" });
  target.style.width = `${size[0]}px`;
  target.style.height = `${size[1]}px`;
  document.body.append(target);
  const map = new OlMap({
    target,
    layers: layersOf(app, styles),
    controls: [],
    interactions: [],
    pixelRatio: FINE,
    view: new View({
      projection: app.map.projection,
      center: [...centre],
      // A CSS pixel is 25.4 / 96 mm of paper.
      resolution: scale / 1000 / PX_PER_MM,
      constrainResolution: false,
      enableRotation: false,
      minResolution: 1e-6,
      maxResolution: 1e6,
    }),
  });
  map.setSize(size);
  map.renderSync();
  const canvas = h("canvas");
  canvas.width = size[0] * FINE;
  canvas.height = size[1] * FINE;
  const context = canvas.getContext("2d")!;
  context.fillStyle = "#ffffff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  for (const layer of target.querySelectorAll<HTMLCanvasElement>(
    ".ol-layer canvas, canvas.ol-layer",
  )) {
    if (layer.width > 0) context.drawImage(layer, 0, 0, canvas.width, canvas.height);
  }
  map.setTarget(undefined);
  map.dispose();
  target.remove();
  // Drawn for whole pixels; shown in millimetres, so that rounding is no error of scale.
  canvas.style.width = `${size[0] / PX_PER_MM}mm`;
  canvas.style.height = `${size[1] / PX_PER_MM}mm`;
  return canvas;
}

function layersOf(app: App, styles: MapStyles): BaseLayer[] {
  const { layers } = app.store.state;
  return LAYER_NAMES.filter((name) => layers[name]).map(
    (name) =>
      app.map.pictureLayer(name) ??
      new VectorLayer({
        source: app.map.sources.get(name)!,
        declutter: name === "names",
        style: app.map.styleWith(styles, name),
      }),
  );
}

function strip(app: App, layout: PrintLayout, number: number, count: number): HTMLElement {
  const { model, words } = app.store.state;
  const { lengthM, mm } = printedBar(layout.scale);
  const bar = h("span", { class: "print-bar" }, h("i"), h("i"), h("i"), h("i"));
  bar.style.width = `${mm}mm`;
  const { number: written } = words.measures;
  const decimals = lengthM < 1 ? 1 : 0;
  const errors = model.findings.filter(({ severity }) => severity === "error").length;
  const side = words.t(layout.isLying ? "print.lying" : "print.upright");
  return h(
    "footer",
    { class: "print-strip" },
    h(
      "div",
      {},
      h("strong", {}, model.siteName),
      errors > 0 && h("b", {}, words.t("plan.errors", { count: errors })),
      h("span", {}, `${words.t("plan.machine")}: ${model.machine.label}`),
      h("span", {}, words.t("plan.madeBy", { tool: model.tool, version: model.version })),
    ),
    h(
      "div",
      {},
      h("span", { class: "print-scale" }, "0", bar, `${written(lengthM, decimals)} m`),
      h("span", {}, words.t("print.bar", { mm: written(mm, Number.isInteger(mm) ? 0 : 1) })),
      h("span", {}, words.t("page.unofficial")),
    ),
    h(
      "div",
      {},
      h(
        "strong",
        {},
        words.t("print.onPaper", { scale: layout.scale, paper: `${layout.paper} ${side}` }),
      ),
      h("span", {}, words.t("print.sheetOf", { number, count })),
      h("span", {}, words.t("print.gridNorth")),
    ),
  );
}
