/** The page: reads what the file holds, puts its parts in place. */
import type { PageData } from "../model/page-data.ts";
import { wordsIn } from "../words/words.ts";
import { blockText, readData } from "./data.ts";
import { fill } from "./dom.ts";
import { card } from "./frame/card.ts";
import { buildFrame, type Frame } from "./frame/frame.ts";
import { sheet } from "./frame/sheet.ts";
import { tabs } from "./frame/tabs.ts";
import { toolbar } from "./frame/toolbar.ts";
import { FIRST_LAYERS } from "./map/layer-names.ts";
import { lookFor, onLookChange } from "./map/look.ts";
import { MapView } from "./map/map-view.ts";
import { layPicture } from "./map/picture.ts";
import { pointing } from "./map/pointing.ts";
import { scaleBar } from "./map/scale-bar.ts";
import { statusLine } from "./map/status.ts";
import { printOnDemand } from "./panels/print.ts";
import type { App, AppState } from "./part.ts";
import { PARTS } from "./parts.ts";
import { createStore, type Store } from "./store.ts";

function start(): void {
  const host = document.getElementById("app")!;
  const data = readData();
  const { model } = data;
  const store = createStore<AppState>({
    model,
    words: wordsIn(model.language, model.units),
    selected: undefined,
    hovered: undefined,
    panel: "plan",
    folded: false,
    tool: undefined,
    layers: FIRST_LAYERS,
    scheme: "auto",
    contrast: "auto",
  });
  const frame = buildFrame(host);
  const map = new MapView(frame.map, model, lookFor(store.state));
  const app = appOf(data, store, map, frame);
  map.setModel(model, store.state.words);
  if (data.picture) layPicture(map, data.picture);
  follow(app, frame);
  frame.corner.append(scaleBar(app));
  statusLine(app, frame);
  tabs(app, frame, PARTS.panels);
  sheet(app, frame);
  card(app, frame);
  toolbar(app, frame, PARTS.tools);
  pointing(app, frame);
  printOnDemand(app);
  map.ol.updateSize();
  map.showAll(false);
  for (const begin of PARTS.starts) begin(app);
  document.documentElement.dataset.ready = "yes";
}

function appOf(data: PageData, store: Store<AppState>, map: MapView, frame: Frame): App {
  let now = data;
  const listeners: ((data: PageData) => void)[] = [];
  return {
    get data() {
      return now;
    },
    renew: (next) => {
      if (next.picture?.url !== now.picture?.url) {
        map.clearPicture();
        if (next.picture) layPicture(map, next.picture);
      }
      now = next;
      for (const listener of listeners) listener(next);
      store.set({ model: next.model });
    },
    onRenew: (listener) => void listeners.push(listener),
    store,
    map,
    text: blockText,
    announce: (text) => fill(frame.live, text),
    hint: (...content) => {
      frame.hint.hidden = content.length === 0;
      fill(frame.hint, ...content);
    },
    select: (id, { show = false } = {}) => {
      store.set({ selected: id });
      if (id !== undefined && show) map.show(id);
    },
    open: (panel) => store.set({ panel, folded: false }),
  };
}

/** Map and frame follow the state. */
function follow({ store, map }: App, frame: Frame): void {
  const name = () => {
    const { words, model } = store.state;
    document.documentElement.lang = words.language;
    document.title = words.t("page.title", { site: model.siteName });
    fill(frame.title, model.siteName);
    frame.title.dir = "auto";
    frame.map.setAttribute("aria-label", words.t("page.map"));
    frame.north.setAttribute("aria-label", words.t("map.north"));
    fill(frame.help, words.t("page.mapHelp"));
  };
  const wear = () => {
    const look = lookFor(store.state);
    document.documentElement.dataset.look = look.name;
    map.setLook(look);
  };
  name();
  wear();
  onLookChange(wear);
  store.subscribe((state, before) => {
    if (state.words !== before.words || state.model !== before.model) name();
    if (state.model !== before.model) map.setModel(state.model, state.words);
    else if (state.words !== before.words) map.setWords(state.model, state.words);
    if (state.layers !== before.layers) map.setLayers(state.layers);
    if (state.scheme !== before.scheme || state.contrast !== before.contrast) wear();
    if (state.selected !== before.selected || state.model !== before.model) {
      map.mark(state.selected);
    }
  });
  new ResizeObserver(() => map.ol.updateSize()).observe(frame.map);
}

start();
