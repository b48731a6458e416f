/** The laying guide as a walk along the wire: where one stands, what to do here, what comes next. */
import type { GuideSection } from "../../../handover/guide/guide.ts";
import type { PageModel, Walk, WalkStop } from "../../model/page-model.ts";
import type { Words } from "../../words/words.ts";
import { append, fill, h, icon } from "../dom.ts";
import { ICONS } from "../icons.ts";
import { walkLayer } from "../map/walk-layer.ts";
import type { App, Panel } from "../part.ts";
import { createStore, type Store } from "../store.ts";

export interface WalkState {
  readonly loop: number;
  readonly stop: number;
}

/** How close the walk looks: metres of a CSS pixel. */
const CLOSE_M = 0.022;

export const walkPanel: Panel = {
  id: "walk",
  label: "panel.walk",
  icon: ICONS.walk,
  order: 30,
  mount(root, app) {
    const place = placeOf(app);
    const layer = walkLayer(app);
    let view = draw(root, app, place);
    const follow = () => {
      view.show();
      layer.draw(walkAt(app, place), place.state.stop);
    };
    const stopFollowing = place.subscribe((state, before) => {
      if (state.loop !== before.loop) view = draw(root, app, place);
      follow();
      lookAt(app, place);
    });
    const stopLooking = app.store.subscribe((state) => layer.setShown(state.panel === "walk"));
    const stopKeys = keys(app, place);
    goToSelected(app, place);
    follow();
    return {
      update: (state, before) => {
        if (state.model !== before.model) {
          place.set(within(state.model, place.state));
          view = draw(root, app, place);
          follow();
        }
        if (state.selected !== before.selected || state.panel !== before.panel) {
          goToSelected(app, place);
        }
      },
      close: () => {
        stopFollowing();
        stopLooking();
        stopKeys();
        layer.remove();
      },
    };
  },
};

/** Where the walk is outlasts a change of language. */
const places = new WeakMap<App, Store<WalkState>>();

function placeOf(app: App): Store<WalkState> {
  let place = places.get(app);
  if (!place) {
    place = createStore<WalkState>({ loop: 0, stop: 0 });
    places.set(app, place);
  }
  place.set(within(app.store.state.model, place.state));
  return place;
}

function within({ walks }: PageModel, { loop, stop }: WalkState): WalkState {
  const l = Math.min(loop, Math.max(0, walks.length - 1));
  return { loop: l, stop: Math.min(stop, Math.max(0, (walks[l]?.stops.length ?? 1) - 1)) };
}

const walkAt = (app: App, place: Store<WalkState>): Walk | undefined =>
  app.store.state.model.walks[place.state.loop];

function lookAt(app: App, place: Store<WalkState>): void {
  const stop = walkAt(app, place)?.stops[place.state.stop];
  if (!stop) return;
  const resolution = app.map.view.getResolution() ?? 1;
  app.map.centreOn(stop.at, Math.min(resolution, CLOSE_M));
}

/** A peg that is chosen on the map or in a list: the walk goes on from there. */
function goToSelected(app: App, place: Store<WalkState>): void {
  const { selected, model } = app.store.state;
  if (!selected?.startsWith("peg:")) return;
  const number = selected.slice("peg:".length);
  for (const [loop, { stops }] of model.walks.entries()) {
    const stop = stops.findIndex(({ peg }) => peg === number);
    if (stop < 0) continue;
    place.set({ loop, stop });
    return;
  }
}

/** On the map, `,` and `.` go to the peg before and to the next one. */
function keys(app: App, place: Store<WalkState>): () => void {
  const target = app.map.element;
  const press = (event: KeyboardEvent) => {
    if (app.store.state.panel !== "walk" || event.ctrlKey || event.metaKey || event.altKey) return;
    const by = { ",": -1, ".": 1 }[event.key];
    if (by !== undefined) goTo(app, place, place.state.stop + by);
  };
  target.addEventListener("keydown", press);
  return () => target.removeEventListener("keydown", press);
}

function goTo(app: App, place: Store<WalkState>, stop: number): void {
  const walk = walkAt(app, place);
  if (!walk) return;
  const to = Math.min(walk.stops.length - 1, Math.max(0, stop));
  if (to === place.state.stop) return;
  place.set({ stop: to });
  app.announce(spoken(app, walk, to));
}

/** From one step of the guide to the next: the stop at which other things are done. */
function stepStop(walk: Walk, from: number, by: 1 | -1): number {
  const key = (at: number) => walk.stops[at]!.steps.join(" ");
  let at = from + by;
  if (at < 0 || at >= walk.stops.length) return from;
  if (by > 0) {
    while (at < walk.stops.length - 1 && key(at) === key(at - 1)) at++;
    return at;
  }
  while (at > 0 && key(at) === key(at - 1)) at--;
  return at;
}

function draw(root: HTMLElement, app: App, place: Store<WalkState>): { show(): void } {
  const { model, words } = app.store.state;
  const { walks, guide } = model;
  const walk = walks[place.state.loop];
  fill(root);
  if (!walk) {
    append(root, h("p", { class: "note" }, words.t("walk.none")));
    return { show: () => {} };
  }
  const peg = h("strong", { class: "walk-peg" });
  const along = h("span", { class: "walk-along" });
  const next = h("p", { class: "walk-next" });
  const todo = h("div", { class: "walk-todo" });
  const slider = h("input", {
    type: "range",
    min: 0,
    max: walk.stops.length - 1,
    step: 1,
    class: "walk-slider",
    "aria-label": words.t("walk.along"),
    input: () => goTo(app, place, Number(slider.value)),
  });
  const button = (
    label: string,
    path: string,
    isMain: boolean,
    to: () => number,
    isAfter = false,
  ) => {
    const text = h("span", {}, label);
    return h(
      "button",
      {
        type: "button",
        class: isMain ? "button main" : "button",
        click: () => goTo(app, place, to()),
      },
      isAfter ? text : icon(path),
      isAfter ? icon(path) : text,
    );
  };
  const at = () => place.state.stop;
  append(
    root,
    walks.length > 1 && loopChoice(walks, words, place),
    section(
      guide.sections.find(({ part }) => part === "before"),
      words,
      true,
    ),
    h("div", { class: "walk-here" }, peg, along),
    slider,
    next,
    h(
      "div",
      { class: "walk-buttons" },
      button(words.t("walk.back"), ICONS.left, false, () => at() - 1),
      button(words.t("walk.next"), ICONS.right, true, () => at() + 1, true),
      button(words.t("walk.stepBack"), ICONS.left, false, () => stepStop(walk, at(), -1)),
      button(words.t("walk.stepNext"), ICONS.right, false, () => stepStop(walk, at(), 1), true),
    ),
    todo,
    section(
      guide.sections.find(({ part, loop }) => part === "prove" && loop === walk.loop),
      words,
      false,
    ),
    section(
      guide.sections.find(({ part }) => part === "mind"),
      words,
      false,
    ),
    h("p", { class: "note" }, words.t("walk.keys")),
  );
  return {
    show: () => {
      const { stop } = place.state;
      const here = walk.stops[stop]!;
      const { length } = words.measures;
      const total = walk.stops.at(-1)!.chainageM;
      fill(peg, here.peg);
      fill(along, words.t("walk.laid", { laid: length(here.chainageM), total: length(total) }));
      slider.value = String(stop);
      slider.setAttribute("aria-valuetext", `${here.peg}, ${length(here.chainageM)}`);
      fill(next, nextText(walk, stop, words));
      fill(todo, ...steps(model, walk, here, words));
    },
  };
}

function nextText({ stops }: Walk, stop: number, words: Words): string {
  const [here, next] = [stops[stop]!, stops[stop + 1]];
  if (!next) return words.t("walk.done");
  const gap = words.measures.length(next.chainageM - here.chainageM);
  return words.t("walk.then", { peg: next.peg, gap });
}

function steps(
  model: PageModel,
  walk: Walk,
  { steps: own }: WalkStop,
  words: Words,
): HTMLElement[] {
  const all = model.guide.sections[walk.section]?.steps ?? [];
  return own.flatMap((index) => {
    const step = all[index];
    if (!step) return [];
    return [h("p", { class: `walk-step ${step.kind}` }, step.say.map(words.say).join(" "))];
  });
}

/** What is read out at a stop. */
function spoken(app: App, walk: Walk, stop: number): string {
  const { model, words } = app.store.state;
  const here = walk.stops[stop]!;
  const isNew = stop === 0 || walk.stops[stop - 1]!.steps.join() !== here.steps.join();
  return [
    `${words.t("kind.peg")} ${here.peg}, ${words.measures.length(here.chainageM)}.`,
    nextText(walk, stop, words),
    ...(isNew ? steps(model, walk, here, words).map((one) => one.textContent ?? "") : []),
  ].join(" ");
}

function loopChoice(walks: readonly Walk[], words: Words, place: Store<WalkState>): HTMLElement {
  return h(
    "div",
    { class: "walk-loops", role: "group", "aria-label": words.t("plan.loops") },
    ...walks.map(({ loop }, i) =>
      h(
        "button",
        {
          type: "button",
          class: "button",
          "aria-pressed": String(i === place.state.loop),
          click: () => place.set({ loop: i, stop: 0 }),
        },
        words.t("loop.name", { loop }),
      ),
    ),
  );
}

/** A section of the guide that is not walked, folded. */
function section(
  one: GuideSection | undefined,
  words: Words,
  isWarning: boolean,
): HTMLElement | undefined {
  if (!one || one.steps.length === 0) return undefined;
  const items = one.steps.map((step) => h("li", {}, step.say.map(words.say).join(" ")));
  const list = one.isNumbered ? h("ol", {}, ...items) : h("ul", {}, ...items);
  return h(
    "details",
    { class: isWarning ? "fold-out warn" : "fold-out" },
    h("summary", {}, words.say(one.title)),
    list,
  );
}
