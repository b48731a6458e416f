/** A bar that shows a round length of the site, and the north arrow beside it. */
import type { LengthUnit } from "../../../model/hand-over-options.ts";
import { LENGTH_UNITS } from "../../../model/hand-over-options.ts";
import { fill, h } from "../dom.ts";
import type { App } from "../part.ts";

const WIDEST_PX = 140;
const PARTS = 4;

/** The longest round length (1, 2 or 5 and noughts, in metres or feet) of at most so many pixels. */
export function roundLength(resolutionM: number, unit: LengthUnit, widestPx = WIDEST_PX) {
  const unitM = LENGTH_UNITS[unit];
  const most = (widestPx * resolutionM) / unitM;
  const tens = 10 ** Math.floor(Math.log10(most));
  const value = [5, 2, 1].map((one) => one * tens).find((one) => one <= most) ?? tens;
  return { value, lengthM: value * unitM, widthPx: (value * unitM) / resolutionM };
}

export function scaleBar(app: App): HTMLElement {
  const bar = h("div", { class: "scale-bar", role: "img" });
  let shown = "";
  const draw = () => {
    const { words } = app.store.state;
    const resolution = app.map.view.getResolution() ?? 1;
    const { value, widthPx } = roundLength(resolution, words.units);
    const sign = `${value} ${words.units} ${widthPx.toFixed(1)} ${words.language}`;
    if (sign === shown) return;
    shown = sign;
    const decimals = Math.max(0, -Math.floor(Math.log10(value) + 1e-9));
    const text = `${words.measures.number(value, decimals)} ${words.units}`;
    bar.setAttribute("aria-label", words.t("map.scale", { length: text }));
    const parts = Array.from({ length: PARTS }, () => h("i"));
    const row = h("span", { class: "scale-row" }, ...parts);
    row.style.width = `${widthPx}px`;
    fill(bar, h("span", {}, "0"), row, h("span", {}, text));
  };
  app.map.view.on("change:resolution", draw);
  app.store.subscribe((state, before) => state.words !== before.words && draw());
  draw();
  return bar;
}
