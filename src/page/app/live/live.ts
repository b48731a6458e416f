/** A page that is served by `pegline open` follows the files: it hears of each new plan. */
import type { PageData } from "../../model/page-data.ts";
import type { Words } from "../../words/words.ts";
import { fill, h, icon, name } from "../dom.ts";
import { canPlan, plannerOf } from "../edits/planner.ts";
import { ICONS } from "../icons.ts";
import type { App } from "../part.ts";

/** What keeps a newer plan from being made. */
interface Trouble {
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
  readonly where: string;
}

type News =
  | { readonly is: "trouble"; readonly trouble: Trouble }
  | { readonly is: "ended" }
  /** Changes made here would be lost. */
  | { readonly is: "newer"; take(): void }
  | undefined;

export function live(app: App): void {
  const served = app.data.live;
  if (!served) return;
  const strip = h("section", { class: "live", hidden: true });
  app.map.ol.getTargetElement()?.parentElement?.append(strip);
  let news: News;
  const show = (next: News) => {
    news = next;
    draw(strip, app, news, () => show(undefined));
  };
  const events = new EventSource(`events?have=${served.version}`);
  events.addEventListener("plan", ({ data, lastEventId }) => {
    const plan = JSON.parse(data) as PageData;
    const take = () => {
      show(undefined);
      const { live: _, ...bare } = plan;
      app.renew({ ...bare, live: { version: lastEventId } });
      app.announce(app.store.state.words.t("live.renewed"));
    };
    if (hasChanges(app)) show({ is: "newer", take });
    else take();
  });
  events.addEventListener("trouble", ({ data }) => {
    show({ is: "trouble", trouble: JSON.parse(data) });
  });
  events.addEventListener("open", () => {
    if (news?.is === "ended") show(undefined);
  });
  // Others try to reach it again by themselves.
  events.addEventListener("error", () => show({ is: "ended" }));
  app.store.subscribe((state, before) => {
    if (state.words !== before.words) show(news);
  });
}

function draw(strip: HTMLElement, { store }: App, news: News, close: () => void): void {
  const { words } = store.state;
  strip.hidden = news === undefined;
  strip.classList.toggle("trouble", news?.is === "trouble");
  strip.setAttribute("role", news?.is === "trouble" ? "alert" : "status");
  const shut = h(
    "button",
    { type: "button", class: "plain", "aria-label": words.t("action.close"), click: close },
    icon(ICONS.close),
  );
  fill(strip, ...(news ? [text(news, words), shut] : []));
}

const hasChanges = (app: App) => canPlan(app) && plannerOf(app).store.state.history.done.length > 0;

function text(news: NonNullable<News>, words: Words): HTMLElement {
  if (news.is === "ended") return h("p", {}, words.t("live.ended"));
  if (news.is === "newer") {
    const take = { type: "button", class: "button", click: news.take };
    return h("div", {}, h("p", {}, words.t("live.newer")), h("button", take, words.t("live.take")));
  }
  const { code, message, remedy, where } = news.trouble;
  return h(
    "div",
    {},
    h("p", {}, h("strong", {}, words.t("live.trouble"))),
    h(
      "p",
      { lang: "en" },
      h("strong", {}, code),
      where !== "" && h("span", {}, " · ", name(where)),
    ),
    h("p", { lang: "en" }, name(message)),
    h("p", { lang: "en" }, `${words.t("figure.remedy")}: `, name(remedy)),
  );
}
