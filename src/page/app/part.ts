/** What a part of the page is: a panel, a tool, or something that is at work from the start. */
import type { PageData } from "../model/page-data.ts";
import type { PageModel } from "../model/page-model.ts";
import type { WordKey } from "../words/catalogue.ts";
import type { Words } from "../words/words.ts";
import type { LayerName } from "./map/layer-names.ts";
import type { MapView } from "./map/map-view.ts";
import type { Store } from "./store.ts";

/** What the whole page shares. Parts keep what is theirs alone in stores of their own. */
export interface AppState {
  readonly model: PageModel;
  readonly words: Words;
  /** Shape, peg or finding. */
  readonly selected: string | undefined;
  readonly hovered: string | undefined;
  readonly panel: string;
  /** Whether the panels are folded away. */
  readonly folded: boolean;
  readonly tool: string | undefined;
  readonly layers: Readonly<Record<LayerName, boolean>>;
  readonly scheme: "auto" | "light" | "dark";
  readonly contrast: "auto" | "more";
}

/** What parts are given. */
export interface App {
  /** What the page was given last; the model of now is in the store. */
  readonly data: PageData;
  /** Takes other data in the place of all, as if another file had been opened. */
  renew(data: PageData): void;
  /** Calls when the page has been given other data. */
  onRenew(listener: (data: PageData) => void): void;
  readonly store: Store<AppState>;
  readonly map: MapView;
  /** Says something to screen readers. */
  announce(text: string): void;
  /** Shows a line or two over the map, such as a tool's reading; nothing takes it away. */
  hint(...content: readonly (Node | string | false)[]): void;
  /**
   * Selects a shape, peg or finding by its id, or nothing.
   *
   * @param options `show`: the map moves there where it is out of sight
   */
  select(id: string | undefined, options?: { readonly show?: boolean }): void;
  /** Shows a panel. */
  open(panel: string): void;
  /** The text of a block of the file that is no JSON, such as the worker's script. */
  text(name: string): string;
}

/** What a panel does once it is in place. */
export interface PanelView {
  /** Called after each change of what is shared, while the panel is shown. */
  update?(state: AppState, before: AppState): void;
  /** Called when the panel is taken away, e.g. since the language has changed. */
  close?(): void;
}

export interface Panel {
  readonly id: string;
  readonly label: WordKey;
  /** A path in a square of 24. */
  readonly icon: string;
  /** Panels stand in the order of these numbers: ours are 10, 20, … */
  readonly order: number;
  /** Whether the file has what it needs; true where left out. */
  isThere?(app: App): boolean;
  /** Something to show beside the name, such as a count; undefined for nothing. */
  badge?(state: AppState): string | undefined;
  /** What the badge counts, with the placeholder `count`. */
  readonly badgeLabel?: WordKey;
  /** Fills an empty element; called when the panel is shown first and after a change of language. */
  mount(root: HTMLElement, app: App): PanelView;
}

export interface Tool {
  readonly id: string;
  readonly label: WordKey;
  readonly icon: string;
  readonly order: number;
  /** Whether the file has what it needs; true where left out. */
  isThere?(app: App): boolean;
  /** For tools that are done at once, or switch something on and off. */
  press?(app: App): void;
  /** Whether that is on; left out where there is nothing to switch. */
  readonly switch?: Store<{ readonly isOn: boolean }>;
  /**
   * For tools that stay in hand until another is taken. The map then selects nothing.
   *
   * @returns a function that puts it down
   */
  take?(app: App): () => void;
}

/** What a folder of the app adds to the page. */
export interface Parts {
  readonly panels: readonly Panel[];
  readonly tools: readonly Tool[];
  /** Called once, when all else is in place. */
  readonly starts: readonly ((app: App) => void)[];
}
