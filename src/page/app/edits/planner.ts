/** The planner of the page: a worker, the edits that it plans with, and what came of them. */
import type { Problem } from "../../../model/finding.ts";
import type { PartsChoice } from "../../../model/plan.ts";
import { type Differences, differences } from "../../edits/differences.ts";
import type { Edit } from "../../edits/edit.ts";
import {
  type History,
  NO_EDITS,
  redone,
  undone,
  withEdit,
  withLastEdit,
} from "../../edits/history.ts";
import type { PageModel } from "../../model/page-model.ts";
import type { FromWorker, ToWorker } from "../../worker/messages.ts";
import type { PackedSource } from "../../worker/source.ts";
import type { App } from "../part.ts";
import { startWorker } from "../start-worker.ts";
import { createStore, type Store } from "../store.ts";

export interface EditState {
  readonly history: History;
  /** `off` until something needs the planner. */
  readonly planner: "off" | "starting" | "ready" | "broken";
  readonly busy: boolean;
  readonly problem?: Problem | undefined;
  readonly fault?: string | undefined;
  /** The plan without edits, as the planner here makes it. */
  readonly before?: PageModel | undefined;
  readonly differences?: Differences | undefined;
  readonly siteFile?: string | undefined;
  /** What the site file says of parts that cannot be driven to. */
  readonly parts?: PartsChoice | undefined;
}

/** The files of a plan, as the worker gives them. */
export type PlannedFiles = Extract<FromWorker, { type: "files" }>;

/** What an edit of a gesture is known by: while it lasts, each takes the place of the one before. */
type Gesture = object;

export class Planner {
  readonly store: Store<EditState>;
  readonly #app: App;
  #worker: Worker | undefined;
  #asked = 0;
  #gesture: Gesture | undefined;
  readonly #waiting = new Map<number, (files: PlannedFiles) => void>();

  constructor(app: App) {
    this.#app = app;
    this.store = createStore<EditState>({ history: NO_EDITS, planner: "off", busy: false });
    app.onRenew(() => this.#renew());
  }

  /** The site file as it is now, with all that was changed here. */
  get siteFileText(): string {
    return this.store.state.siteFile ?? this.source.siteFile.text;
  }

  /** The page was given another plan: what was changed here is gone. */
  #renew(): void {
    const wasOn = this.store.state.planner !== "off";
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#asked = 0;
    this.#gesture = undefined;
    this.#waiting.clear();
    this.store.set({
      history: NO_EDITS,
      planner: "off",
      busy: false,
      problem: undefined,
      fault: undefined,
      before: undefined,
      differences: undefined,
      siteFile: undefined,
      parts: undefined,
    });
    if (wasOn && canPlan(this.#app)) void this.start();
  }

  get source(): PackedSource {
    return this.#app.data.job as PackedSource;
  }

  /** Starts the worker, if it does not run; it plans the site once, which warms it. */
  async start(): Promise<void> {
    if (this.store.state.planner !== "off") return;
    this.store.set({ planner: "starting", busy: true });
    try {
      const worker = await startWorker(this.#app.text("worker"));
      worker.onmessage = ({ data }: MessageEvent<FromWorker>) => this.#hear(data);
      worker.onerror = (event) => {
        event.preventDefault();
        this.store.set({ planner: "broken", busy: false, fault: event.message });
      };
      this.#worker = worker;
      this.#say({ type: "open", source: this.source });
      if (this.store.state.history.done.length > 0) this.#replan();
    } catch (error) {
      this.store.set({ planner: "broken", busy: false, fault: (error as Error).message });
    }
  }

  /**
   * One more edit.
   *
   * @param gesture edits with the same one that follow each other count as one
   */
  do(edit: Edit, gesture?: Gesture): void {
    const { history } = this.store.state;
    const goesOn = gesture !== undefined && gesture === this.#gesture;
    this.#gesture = gesture;
    this.#put(goesOn ? withLastEdit(history, edit) : withEdit(history, edit));
  }

  undo(): void {
    this.#gesture = undefined;
    this.#put(undone(this.store.state.history));
  }

  redo(): void {
    this.#gesture = undefined;
    this.#put(redone(this.store.state.history));
  }

  /** The files of the plan as it is now. */
  async files(): Promise<PlannedFiles> {
    await this.start();
    const id = ++this.#asked;
    const { done } = this.store.state.history;
    return new Promise((resolve) => {
      this.#waiting.set(id, resolve);
      this.#say({ type: "files", id, edits: done });
    });
  }

  #put(history: History): void {
    if (history === this.store.state.history) return;
    this.store.set({ history });
    if (this.store.state.planner === "off") void this.start();
    else this.#replan();
  }

  #replan(): void {
    const { done } = this.store.state.history;
    this.store.set({ busy: true });
    this.#say({ type: "replan", id: ++this.#asked, edits: done });
  }

  #say(message: ToWorker): void {
    this.#worker?.postMessage(message);
  }

  #hear(message: FromWorker): void {
    switch (message.type) {
      case "planned":
        this.#planned(message);
        return;
      case "files":
        this.#waiting.get(message.id)?.(message);
        this.#waiting.delete(message.id);
        return;
      case "problem":
        if (message.id === this.#asked || message.id === 0) {
          this.store.set({ busy: false, planner: "ready", problem: message.problem });
        }
        return;
      case "fault": {
        const isStart = this.store.state.planner === "starting";
        const broken = isStart ? { planner: "broken" as const } : {};
        this.store.set({ ...broken, busy: false, fault: message.message });
        return;
      }
    }
  }

  #planned({ id, model, siteFile, parts }: Extract<FromWorker, { type: "planned" }>): void {
    const fine = { problem: undefined, fault: undefined, siteFile, parts };
    if (id === 0) {
      this.store.set({ ...fine, before: model, planner: "ready", busy: this.#asked > 0 });
      return;
    }
    const { before } = this.store.state;
    const found = before && differences(before, model);
    this.store.set({ ...fine, differences: found, busy: id !== this.#asked });
    this.#app.store.set({ model });
    if (id !== this.#asked) return;
    const { words } = this.#app.store.state;
    const { wireM, pegs } = model.totals;
    this.#app.announce(words.t("edit.planned", { wire: words.figure({ lengthM: wireM }), pegs }));
  }
}

const planners = new WeakMap<App, Planner>();

/** The planner of an app; there is one. */
export function plannerOf(app: App): Planner {
  const known = planners.get(app);
  if (known) return known;
  const made = new Planner(app);
  planners.set(app, made);
  return made;
}

/** Whether the file holds what planning takes. */
export const canPlan = (app: App): boolean => app.data.job !== undefined;
