/** Edits done and undone. Values only: each step gives a new history. */
import type { Edit } from "./edit.ts";

export interface History {
  readonly done: readonly Edit[];
  /** Last undone first. */
  readonly undone: readonly Edit[];
}

export const NO_EDITS: History = { done: [], undone: [] };

/** One more edit; what was undone before can no longer be done again. */
export function withEdit(history: History, edit: Edit): History {
  return { done: [...history.done, edit], undone: [] };
}

/** Another edit in the place of the last one, as a drag goes on. */
export function withLastEdit(history: History, edit: Edit): History {
  return withEdit({ ...history, done: history.done.slice(0, -1) }, edit);
}

/** Without the last edit; the same where there is none. */
export function undone(history: History): History {
  const last = history.done.at(-1);
  if (!last) return history;
  return { done: history.done.slice(0, -1), undone: [last, ...history.undone] };
}

/** With the edit again that was undone last; the same where there is none. */
export function redone(history: History): History {
  const [next, ...rest] = history.undone;
  return next ? { done: [...history.done, next], undone: rest } : history;
}
