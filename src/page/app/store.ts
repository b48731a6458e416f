/** State with those who want to know of it. Parts with a state of their own make a store of their own. */

export interface Store<S> {
  readonly state: S;
  /** Puts values in the place of others and tells all who listen, unless nothing has changed. */
  set(values: Partial<S>): void;
  /** @returns a function that ends it */
  subscribe(listener: (state: S, before: S) => void): () => void;
}

export function createStore<S extends object>(first: S): Store<S> {
  let state = first;
  const listeners = new Set<(state: S, before: S) => void>();
  return {
    get state() {
      return state;
    },
    set(values) {
      const keys = Object.keys(values) as (keyof S)[];
      if (keys.every((key) => Object.is(state[key], values[key]))) return;
      const before = state;
      state = { ...state, ...values };
      const now = state;
      for (const listener of [...listeners]) listener(now, before);
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
