/** What stands where: the map with its tools, the panels beside it (below it on narrow screens). */
import { h, icon } from "../dom.ts";
import { ICONS } from "../icons.ts";

export interface Frame {
  readonly root: HTMLElement;
  readonly map: HTMLElement;
  readonly help: HTMLElement;
  readonly tools: HTMLElement;
  readonly corner: HTMLElement;
  readonly north: HTMLElement;
  readonly status: HTMLElement;
  readonly tip: HTMLElement;
  readonly hint: HTMLElement;
  readonly title: HTMLElement;
  /** By which the panels are made taller, on narrow screens. */
  readonly grip: HTMLElement;
  readonly head: HTMLElement;
  readonly fold: HTMLButtonElement;
  readonly tabs: HTMLElement;
  readonly card: HTMLElement;
  readonly panels: HTMLElement;
  readonly live: HTMLElement;
  /** Only on paper. */
  readonly paper: HTMLElement;
}

export function buildFrame(host: HTMLElement): Frame {
  const help = h("p", { id: "map-help", class: "map-help" });
  const map = h("div", {
    class: "map",
    tabindex: 0,
    role: "application",
    "aria-describedby": "map-help",
  });
  const tools = h("div", { class: "tools", role: "toolbar", "aria-orientation": "vertical" });
  const corner = h("div", { class: "corner" });
  const north = h("div", { class: "north", role: "img" }, icon("M12 3l5 17-5-4-5 4z"));
  const status = h("div", { class: "status" });
  const tip = h("div", { class: "tip", "aria-hidden": "true", hidden: true });
  const hint = h("div", { class: "hint", hidden: true });
  const stage = h(
    "div",
    { class: "stage" },
    map,
    h("div", { class: "crosshair", "aria-hidden": "true" }),
    tools,
    north,
    corner,
    status,
    help,
    hint,
    tip,
  );
  const title = h("h1", { class: "site" });
  const fold = h("button", { type: "button", class: "fold" }, icon(ICONS.down));
  const grip = h("div", {
    class: "grip",
    role: "separator",
    tabindex: 0,
    "aria-orientation": "horizontal",
    "aria-valuemin": 20,
    "aria-valuemax": 90,
  });
  const head = h("header", { class: "head" }, grip, title, fold);
  const tabs = h("div", { class: "tabs", role: "tablist" });
  const card = h("section", { class: "card", hidden: true });
  const panels = h("div", { class: "panels" });
  const side = h("div", { class: "side" }, head, tabs, h("div", { class: "scroll" }, card, panels));
  const live = h("div", { class: "unseen", role: "status", "aria-live": "polite" });
  const paper = h("div", { class: "paper" });
  const root = h("div", { class: "frame" }, h("main", { class: "body" }, stage, side), live);
  host.replaceChildren(root, paper);
  return {
    root,
    map,
    help,
    tools,
    corner,
    north,
    status,
    tip,
    hint,
    title,
    grip,
    head,
    fold,
    tabs,
    card,
    panels,
    live,
    paper,
  };
}
