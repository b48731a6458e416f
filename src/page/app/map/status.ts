/** Where the pointer is, or the middle of the map: in the site grid and in degrees. */
import { inSystem, type PageSystem } from "../../model/in-system.ts";
import { fill, h } from "../dom.ts";
import type { Frame } from "../frame/frame.ts";
import type { App } from "../part.ts";

export function statusLine(app: App, frame: Frame): void {
  const { map, store } = app;
  let pointer: readonly [number, number] | undefined;
  const grid = h("span", { class: "numbers" });
  const degrees = h("span", { class: "numbers" });
  const what = h("span", { class: "of" });
  const other = h("span", { class: "numbers" });
  fill(frame.status, what, grid, degrees, other);
  const draw = () => {
    const { words } = store.state;
    const at = pointer ?? map.middle();
    const [lon, lat] = map.toLonLat(at);
    const { length } = words.measures;
    fill(what, pointer ? "" : words.t("map.atMiddle"));
    fill(
      grid,
      `${words.t("map.east")} ${length(at[0])}  ${words.t("map.northing")} ${length(at[1])}`,
    );
    fill(degrees, degreesText(lon, lat, words.measures.number));
    const { system } = app.data;
    other.hidden = system === undefined;
    if (system) fill(other, systemText(system, at, words.measures.number));
  };
  map.ol.on("pointermove", (event) => {
    const { pointerType } = event.originalEvent as PointerEvent;
    pointer = pointerType === "touch" ? undefined : (event.coordinate as [number, number]);
    draw();
  });
  frame.map.addEventListener("pointerleave", () => {
    pointer = undefined;
    draw();
  });
  map.view.on("change", draw);
  store.subscribe((state, before) => {
    if (state.words !== before.words || state.model !== before.model) draw();
  });
  draw();
}

/** Degrees to about a centimetre, with their sides. */
export function degreesText(
  lon: number,
  lat: number,
  number: (value: number, decimals: number) => string,
): string {
  const north = `${number(Math.abs(lat), 7)}° ${lat < 0 ? "S" : "N"}`;
  return `${north}  ${number(Math.abs(lon), 7)}° ${lon < 0 ? "W" : "E"}`;
}

/** A place in the system of the inputs: its code, or its name where it has none, and two numbers. */
function systemText(
  system: PageSystem,
  at: readonly [number, number],
  number: (value: number, decimals: number) => string,
): string {
  const code = /^EPSG:\d+/.exec(system.name)?.[0] ?? system.name;
  const [x, y] = inSystem(system, at);
  const decimals = system.isDegrees ? 7 : 2;
  return `${code}  ${number(x, decimals)}  ${number(y, decimals)}`;
}
