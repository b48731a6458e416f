/** Fields of what is selected. */
import type { PointM } from "../../../model/geometry.ts";
import { EDGE_KINDS, type Role } from "../../../model/roles.ts";
import { DRAWN_ROLES } from "../../../model/site-rules.ts";
import type { PageShape } from "../../model/page-model.ts";
import { h, name } from "../dom.ts";
import type { App } from "../part.ts";
import { corners } from "./corners-section.ts";
import { button, choice, number, refill } from "./fields.ts";
import { isMovable, moveEdit, placeOf, shapeOf, targetOfShape } from "./on-map.ts";
import { isReshapable } from "./outline.ts";
import { plannerOf } from "./planner.ts";

export function selected(root: HTMLElement, app: App): void {
  const { model, words, selected: id } = app.store.state;
  const shape = shapeOf(model, id);
  const title = h("h2", {}, words.t("edit.selected"));
  if (!shape) {
    refill(root, title, h("p", { class: "note" }, words.t("edit.selectFirst")));
    return;
  }
  const target = targetOfShape(app, shape);
  if (!target && shape.kind !== "station") {
    refill(root, title, h("p", { class: "note" }, words.t("edit.fixed")));
    return;
  }
  const planner = plannerOf(app);
  refill(
    root,
    title,
    h("p", {}, h("strong", {}, name(shape.name))),
    ...(shape.kind === "thing" ? thingFields(app, shape) : []),
    ...(shape.kind === "run-ground" ? groundFields(app, shape) : []),
    ...(isMovable(app, shape) ? placeFields(app, shape) : []),
    isReshapable(app, shape) && corners(app),
    target &&
      shape.kind !== "lawn" &&
      button("remove", words.t("edit.remove"), () => {
        app.select(undefined);
        planner.do({ edit: "remove", of: target });
      }),
  );
}

function thingFields(app: App, shape: PageShape): HTMLElement[] {
  const { words } = app.store.state;
  const planner = plannerOf(app);
  const of = targetOfShape(app, shape)!;
  const set = (values: Record<string, string | number | null>) =>
    planner.do({ edit: "set", of, set: values });
  const usual: [string, string] = ["", words.t("edit.contact.usual")];
  const loop = shape.contact === "loop" ? "yes" : "no";
  return [
    choice(
      "contact",
      words.t("edit.contact"),
      [["yes", words.t("edit.contact.yes")], ["no", words.t("edit.contact.no")], usual],
      loop,
      (value) => set({ loop: value === "" ? null : value }),
    ),
    choice(
      "role",
      words.t("edit.role"),
      DRAWN_ROLES.filter((role) => role !== "lawn" && role !== "control").map((role) => [
        role,
        words.t(`role.${role}`),
      ]),
      shape.role ?? "bed",
      (value) => planner.do({ edit: "set", of, role: value as Role }),
    ),
    choice(
      "edge-along",
      words.t("edit.edgeKind"),
      [
        ...EDGE_KINDS.map((kind): [string, string] => [kind, words.t(`edge.${kind}`)]),
        ["", words.t("edit.usual")],
      ],
      shape.edge ?? "",
      (value) => set({ edge: value === "" ? null : value }),
    ),
    number("setin", words.t("edit.setin"), shape.setinM, (value) => set({ setin_m: value }), {
      min: 0,
      max: 10,
    }),
  ];
}

function groundFields(app: App, shape: PageShape): HTMLElement[] {
  const { words } = app.store.state;
  const planner = plannerOf(app);
  const of = targetOfShape(app, shape)!;
  return [
    choice(
      "barred",
      words.t("figure.runs"),
      [
        ["no", words.t("edit.barred")],
        ["5", `${words.t("edit.runCost")}: 5`],
        ["20", `${words.t("edit.runCost")}: 20`],
      ],
      shape.verdict === "shut" ? "no" : "5",
      (value) => {
        const set =
          value === "no" ? { wire: "no", run_cost: null } : { wire: null, run_cost: Number(value) };
        planner.do({ edit: "set", of, set });
      },
    ),
  ];
}

/** East and north, for moving by numbers. */
function placeFields(app: App, shape: PageShape): HTMLElement[] {
  const { words } = app.store.state;
  const at = placeOf(shape).map((one) => Math.round(1000 * one) / 1000) as [number, number];
  const move = (by: PointM) => {
    const edit = moveEdit(app, shape, by);
    if (edit) plannerOf(app).do(edit);
  };
  return [
    h(
      "fieldset",
      { class: "pair" },
      h("legend", {}, words.t("edit.place")),
      number("east", words.t("edit.east"), at[0], (value) => move([(value ?? at[0]) - at[0], 0]), {
        step: 0.1,
      }),
      number(
        "north",
        words.t("edit.north"),
        at[1],
        (value) => move([0, (value ?? at[1]) - at[1]]),
        {
          step: 0.1,
        },
      ),
    ),
  ];
}
