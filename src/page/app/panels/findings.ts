/** What the user must know: errors first, each with what to do about it. */
import type { PageFinding } from "../../model/page-model.ts";
import { append, fill, h, name } from "../dom.ts";
import { ICONS } from "../icons.ts";
import type { App, AppState, Panel } from "../part.ts";

/** Findings that are shown before more are asked for. */
const AT_ONCE = 60;

export const findingsPanel: Panel = {
  id: "findings",
  label: "panel.findings",
  icon: ICONS.findings,
  order: 60,
  badge: ({ model }) => {
    const count = model.findings.filter(({ severity }) => severity !== "info").length;
    return count > 0 ? String(count) : undefined;
  },
  badgeLabel: "badge.findings",
  mount(root, app) {
    draw(root, app, AT_ONCE);
    return {
      update: (state, before) => {
        if (state.model !== before.model) draw(root, app, AT_ONCE);
        else if (state.selected !== before.selected) mark(root, state);
      },
    };
  },
};

function draw(root: HTMLElement, app: App, most: number): void {
  const { model, words } = app.store.state;
  const { findings } = model;
  fill(root);
  if (findings.length === 0) append(root, h("p", { class: "note" }, words.t("findings.none")));
  const shown = findings.slice(0, most);
  for (const severity of ["error", "warning", "info"] as const) {
    const all = findings.filter((one) => one.severity === severity);
    const own = shown.filter((one) => one.severity === severity);
    if (own.length === 0) continue;
    append(
      root,
      h("h2", {}, words.t(`findings.${severity}`, { count: all.length })),
      h("ul", { class: "findings" }, ...own.map((one) => item(one, app))),
    );
  }
  if (findings.length > most) {
    append(
      root,
      h(
        "button",
        { type: "button", class: "button", click: () => draw(root, app, most * 4) },
        words.t("findings.more", { count: findings.length - most }),
      ),
    );
  }
  mark(root, app.store.state);
}

function item(finding: PageFinding, app: App): HTMLElement {
  const { words } = app.store.state;
  const { id, code, severity, message, remedy, where, at } = finding;
  return h(
    "li",
    { class: `finding ${severity}`, "data-id": id },
    h("p", { lang: "en" }, name(message)),
    h("p", { lang: "en", class: "remedy" }, name(remedy)),
    h("p", { class: "note" }, code, where !== "" && " · ", where !== "" && name(where)),
    at !== undefined &&
      h(
        "button",
        {
          type: "button",
          class: "link",
          "aria-label": `${words.t("action.show")}: ${code}`,
          click: () => app.select(id, { show: true }),
        },
        words.t("action.show"),
      ),
  );
}

function mark(root: HTMLElement, { selected }: AppState): void {
  for (const one of root.querySelectorAll<HTMLElement>(".finding")) {
    const isIt = one.dataset.id === selected;
    one.classList.toggle("chosen", isIt);
    if (isIt) one.scrollIntoView({ block: "nearest" });
  }
}
