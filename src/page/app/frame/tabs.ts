/** Tabs and the panels behind them (ARIA Authoring Practices, tabs). A panel is filled when it is first shown. */
import { fill, h, icon } from "../dom.ts";
import { ICONS } from "../icons.ts";
import type { App, Panel, PanelView } from "../part.ts";
import type { Frame } from "./frame.ts";

interface Shown {
  readonly panel: Panel;
  readonly tab: HTMLButtonElement;
  readonly label: HTMLElement;
  readonly badge: HTMLElement;
  readonly root: HTMLElement;
  view: PanelView | undefined;
}

export function tabs(app: App, frame: Frame, panels: readonly Panel[]): void {
  const there = panels.filter((panel) => panel.isThere?.(app) ?? true);
  const all = there.map((panel): Shown => {
    const label = h("span", { class: "tab-label" });
    const badge = h("span", { class: "badge", hidden: true });
    const tab = h(
      "button",
      {
        type: "button",
        role: "tab",
        id: `tab-${panel.id}`,
        "aria-controls": `panel-${panel.id}`,
        click: () => app.open(panel.id),
      },
      icon(panel.icon),
      label,
      badge,
    );
    const root = h("section", {
      class: `panel panel-${panel.id}`,
      role: "tabpanel",
      id: `panel-${panel.id}`,
      "aria-labelledby": `tab-${panel.id}`,
      tabindex: 0,
      hidden: true,
    });
    return { panel, tab, label, badge, root, view: undefined };
  });
  fill(frame.tabs, ...all.map(({ tab }) => tab));
  fill(frame.panels, ...all.map(({ root }) => root));
  frame.tabs.addEventListener("keydown", (event) => {
    const at = all.findIndex(({ panel }) => panel.id === app.store.state.panel);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: all.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    const next = all[(to + all.length) % all.length]!;
    app.open(next.panel.id);
    next.tab.focus();
  });
  frame.fold.addEventListener("click", () => app.store.set({ folded: !app.store.state.folded }));

  const mount = (one: Shown) => {
    one.root.replaceChildren();
    one.view = one.panel.mount(one.root, app);
  };
  const show = () => {
    const { panel: open, folded, words } = app.store.state;
    frame.root.classList.toggle("folded", folded);
    fill(frame.fold, icon(folded ? ICONS.up : ICONS.down));
    frame.fold.setAttribute("aria-expanded", String(!folded));
    frame.fold.setAttribute("aria-label", words.t(folded ? "panel.unfold" : "panel.fold"));
    for (const one of all) {
      const isOpen = one.panel.id === open;
      one.tab.setAttribute("aria-selected", String(isOpen));
      one.tab.tabIndex = isOpen ? 0 : -1;
      one.root.hidden = !isOpen;
      if (isOpen && !one.view) mount(one);
    }
    const chosen = all.find(({ panel }) => panel.id === open)?.tab;
    chosen?.scrollIntoView({ block: "nearest", inline: "nearest" });
  };
  const name = () => {
    const { words } = app.store.state;
    frame.tabs.setAttribute("aria-label", words.t("page.panels"));
    for (const one of all) {
      fill(one.label, words.t(one.panel.label));
      one.view?.close?.();
      one.view = undefined;
    }
  };
  const badges = () => {
    for (const { panel, badge } of all) {
      const { state } = app.store;
      const text = panel.badge?.(state);
      badge.hidden = text === undefined;
      const { badgeLabel } = panel;
      const meant = badgeLabel && text && state.words.t(badgeLabel, { count: text });
      fill(
        badge,
        meant ? h("span", { "aria-hidden": "true" }, text) : (text ?? ""),
        meant !== undefined && meant !== "" && h("span", { class: "unseen" }, `, ${meant}`),
      );
    }
  };
  app.store.subscribe((state, before) => {
    if (state.words !== before.words) name();
    if (state.words !== before.words || state.model !== before.model) badges();
    show();
    for (const one of all) if (!one.root.hidden) one.view?.update?.(state, before);
    if (state.model === before.model) return;
    // Panels out of sight are filled anew when they are shown.
    for (const one of all) {
      if (!one.root.hidden || !one.view) continue;
      one.view.close?.();
      one.view = undefined;
    }
  });
  name();
  badges();
  show();
}
