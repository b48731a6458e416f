/** Files brought to the page: what is in them, what they are taken for, what becomes of them. */
import { shownText } from "../../../escape/hidden.ts";
import type { InspectedInput, InspectedLayer } from "../../../jobs/inspection.ts";
import { ROLES, type Role } from "../../../model/roles.ts";
import { append, fill, h, name } from "../dom.ts";
import type { App, Panel } from "../part.ts";
import { type Inspected, importing, planWith, putAway, takeFiles } from "./state.ts";

const ICON = "M4 5h6l2 3h8v11H4z M12 11v5 M9.5 13.5 12 11l2.5 2.5";

export const importPanel: Panel = {
  id: "import",
  label: "panel.import",
  icon: ICON,
  order: 77,
  mount(root, app) {
    const draw = () => drawPanel(root, app);
    draw();
    const unsubscribe = importing.subscribe((state, before) => {
      if (state.roles === before.roles) draw();
    });
    return { close: unsubscribe };
  },
};

function drawPanel(root: HTMLElement, app: App): void {
  const { words } = app.store.state;
  const { step, files, inspected, problem, fault, leftOver } = importing.state;
  fill(root);
  if (problem) {
    const { code, message, remedy, file = "" } = problem;
    append(
      root,
      h(
        "div",
        { class: "problem", role: "alert" },
        h("p", {}, h("strong", {}, code), file !== "" && h("span", {}, " · ", name(file))),
        h("p", { lang: "en" }, name(shownText(message))),
        h("p", { lang: "en" }, `${words.t("figure.remedy")}: `, name(shownText(remedy))),
      ),
    );
  }
  if (fault !== undefined) {
    append(root, h("p", { role: "alert" }, words.t("import.fault", { message: fault })));
  }
  if (leftOver.length > 0) {
    append(root, h("p", {}, name(words.t("import.leftOver", { names: leftOver.join(", ") }))));
  }
  if (step === "reading") {
    append(root, h("p", { role: "status" }, words.t("import.reading", { count: files.length })));
  } else if (step === "planning") {
    append(root, h("p", { role: "status" }, words.t("import.planning")));
  } else if (inspected) append(root, ...found(app, inspected), choices(app));
  else append(root, h("p", {}, words.t("import.intro")), chooser(app));
}

function chooser(app: App): HTMLElement {
  const { words } = app.store.state;
  const input = h("input", { type: "file", hidden: true, multiple: true });
  input.addEventListener("change", () => void takeFiles(app, [...(input.files ?? [])]));
  return h(
    "div",
    { class: "buttons" },
    input,
    h(
      "button",
      { type: "button", class: "button main", click: () => input.click() },
      words.t("import.choose"),
    ),
  );
}

function found(app: App, { inputs, extentM, findings }: Inspected): HTMLElement[] {
  const { words } = app.store.state;
  const [width, height] = (extentM ?? []).map((lengthM) => words.figure({ lengthM }));
  const sections = [
    h(
      "section",
      {},
      h("h2", {}, words.t("import.found")),
      ...inputs.map((input) => inputList(app, input)),
      width !== undefined &&
        height !== undefined &&
        h("p", { class: "note" }, words.t("import.extent", { width, height })),
    ),
  ];
  const told = findings.filter(({ severity }) => severity !== "info");
  if (told.length > 0) {
    sections.push(
      h(
        "details",
        { open: told.some(({ severity }) => severity === "error") },
        h("summary", {}, `${words.t("import.findings")} (${told.length})`),
        h(
          "ul",
          { class: "compare-findings", lang: "en" },
          ...told.map(({ code, message, remedy }) =>
            h("li", {}, h("strong", {}, code), " ", name(message), " ", name(remedy)),
          ),
        ),
      ),
    );
  }
  return sections;
}

function inputList(app: App, { file, format, layers }: InspectedInput): HTMLElement {
  const { words } = app.store.state;
  const systems = [...new Set(layers.map(({ crs }) => crs))];
  return h(
    "fieldset",
    { class: "import-file" },
    h("legend", {}, name(shownText(file)), ` (${format})`),
    h(
      "p",
      { class: "note" },
      ...systems.map((crs) =>
        crs === null
          ? words.t("import.noCrs")
          : name(words.t("import.crs", { crs: shownText(crs) })),
      ),
    ),
    ...layers.map((layer) =>
      h(
        "label",
        { class: "field" },
        h(
          "span",
          {},
          name(shownText(layer.name)),
          h("span", { class: "count" }, words.t("import.count", { count: layer.features })),
        ),
        roleChoice(app, layer),
      ),
    ),
  );
}

/** As it was read, or what the reader says. */
function roleChoice(app: App, { name: layer, role, roles }: InspectedLayer): HTMLElement {
  const { words } = app.store.state;
  const nameOf = (one: Role) => words.t(`role.${one}`);
  const known = Object.keys(roles) as Role[];
  const read =
    role === null
      ? words.t("import.noRole")
      : known.length > 0
        ? known.map(nameOf).join(", ")
        : role;
  const select = h(
    "select",
    {},
    h("option", { value: "" }, words.t("import.asFound", { role: read })),
    ...ROLES.map((one) =>
      h("option", { value: one, selected: importing.state.roles[layer] === one }, nameOf(one)),
    ),
  );
  select.addEventListener("change", () => {
    const { [layer]: _, ...others } = importing.state.roles;
    const chosen = select.value as Role | "";
    importing.set({ roles: chosen === "" ? others : { ...others, [layer]: chosen } });
  });
  return select;
}

function choices(app: App): HTMLElement {
  const { words } = app.store.state;
  const canAdd = app.data.job !== undefined;
  return h(
    "div",
    {},
    h(
      "div",
      { class: "buttons" },
      canAdd &&
        h(
          "button",
          { type: "button", class: "button main", click: () => void planWith(app, "add") },
          words.t("import.add"),
        ),
      h(
        "button",
        {
          type: "button",
          class: canAdd ? "button" : "button main",
          click: () => void planWith(app, "replace"),
        },
        words.t("import.replace"),
      ),
      h("button", { type: "button", class: "button", click: putAway }, words.t("import.cancel")),
    ),
    h("p", { class: "note" }, words.t("import.replaceNote")),
  );
}
