import type { App, Panel } from "../part.ts";

/** Mounts a panel that shows nothing but the model: drawn at once, and anew with each other model. */
export function drawnAnew(draw: (root: HTMLElement, app: App) => void): Panel["mount"] {
  return (root, app) => {
    draw(root, app);
    return {
      update: (state, before) => {
        if (state.model !== before.model) draw(root, app);
      },
    };
  };
}
