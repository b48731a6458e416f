/** The panel of changes: what is selected, the edge, the machine; before and after; saving. */
import { fill, h } from "../dom.ts";
import type { Panel } from "../part.ts";
import { changes } from "./changes-section.ts";
import { draw } from "./draw-section.ts";
import { edge } from "./edge-section.ts";
import { head } from "./head-section.ts";
import { EDIT_ICONS } from "./icons.ts";
import { machine } from "./machine-section.ts";
import { outlineOf } from "./outline.ts";
import { canPlan, plannerOf } from "./planner.ts";
import { save } from "./save-section.ts";
import { selected } from "./selected-section.ts";
import { editingOf } from "./state.ts";

export const editPanel: Panel = {
  id: "edit",
  label: "panel.edit",
  icon: EDIT_ICONS.change,
  order: 15,
  isThere: canPlan,
  mount(root, app) {
    const planner = plannerOf(app);
    const editing = editingOf(app);
    void planner.start();
    const sections = {
      head: h("div", { class: "edit-head" }),
      changes: h("section", {}),
      selected: h("section", {}),
      edge: h("section", {}),
      draw: h("section", {}),
      machine: h("section", {}),
      save: h("section", {}),
    };
    const drawHead = () => head(sections.head, app);
    const drawChanges = () => changes(sections.changes, app);
    const drawSelected = () => selected(sections.selected, app);
    const drawEdge = () => edge(sections.edge, app);
    const drawMachine = () => machine(sections.machine, app);
    fill(root, ...Object.values(sections));
    for (const one of [drawHead, drawChanges, drawSelected, drawEdge, drawMachine]) one();
    draw(sections.draw, app);
    save(sections.save, app);
    const ends = [
      outlineOf(app).subscribe(drawSelected),
      planner.store.subscribe((state, before) => {
        drawHead();
        if (state.parts !== before.parts) drawMachine();
        if (state.differences !== before.differences || state.history !== before.history) {
          drawChanges();
        }
      }),
      editing.subscribe((state, before) => {
        if (state.stretch !== before.stretch) drawEdge();
        if (state.what !== before.what) draw(sections.draw, app);
      }),
    ];
    return {
      update: (state, before) => {
        const isOther = state.selected !== before.selected || state.model !== before.model;
        if (isOther || state.tool !== before.tool) drawSelected();
        if (state.model === before.model) return;
        drawEdge();
        drawMachine();
      },
      close: () => {
        for (const end of ends) end();
      },
    };
  },
};
