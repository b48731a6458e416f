/** The tools over the map, one stop of the Tab key; arrows go from one to the next. */
import { fill, h, icon } from "../dom.ts";
import type { App, Tool } from "../part.ts";
import type { Frame } from "./frame.ts";

export function toolbar(app: App, frame: Frame, tools: readonly Tool[]): void {
  let putDown: (() => void) | undefined;
  let inHand: string | undefined;
  const there = tools.filter((tool) => tool.isThere?.(app) ?? true);
  const buttons = there.map((tool) => {
    const button = h("button", { type: "button", class: "tool" }, icon(tool.icon));
    button.dataset.tool = tool.id;
    button.addEventListener("click", () => {
      if (tool.press) return tool.press(app);
      app.store.set({ tool: app.store.state.tool === tool.id ? undefined : tool.id });
    });
    return { tool, button };
  });
  fill(frame.tools, ...buttons.map(({ button }) => button));
  let focused = 0;
  const rove = () => {
    buttons.forEach(({ button }, i) => {
      button.tabIndex = i === focused ? 0 : -1;
    });
  };
  frame.tools.addEventListener("keydown", (event) => {
    const step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    focused = (focused + step + buttons.length) % buttons.length;
    rove();
    buttons[focused]?.button.focus();
  });
  frame.tools.addEventListener("focusin", (event) => {
    const at = buttons.findIndex(({ button }) => button === event.target);
    if (at >= 0) focused = at;
    rove();
  });
  const name = () => {
    const { words } = app.store.state;
    frame.tools.setAttribute("aria-label", words.t("page.tools"));
    for (const { tool, button } of buttons) {
      button.setAttribute("aria-label", words.t(tool.label));
      button.title = words.t(tool.label);
    }
  };
  const change = () => {
    const { tool: wanted } = app.store.state;
    if (wanted === inHand) return;
    putDown?.();
    putDown = undefined;
    inHand = wanted;
    for (const { tool, button } of buttons) {
      if (tool.take) button.setAttribute("aria-pressed", String(tool.id === wanted));
      if (tool.id === wanted) putDown = tool.take?.(app);
    }
    frame.root.classList.toggle("in-hand", wanted !== undefined);
    app.map.setDoubleClickZoom(wanted === undefined);
  };
  for (const { tool, button } of buttons) {
    const { switch: own } = tool;
    if (tool.take || own) button.setAttribute("aria-pressed", "false");
    own?.subscribe(({ isOn }) => button.setAttribute("aria-pressed", String(isOn)));
  }
  app.store.subscribe((state, before) => {
    if (state.words !== before.words) name();
    change();
  });
  name();
  rove();
  change();
}
