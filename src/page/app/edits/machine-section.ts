/** The machine and its values, and what becomes of parts. */
import { PARTS_CHOICES, type PartsChoice } from "../../../model/plan.ts";
import { EDGE_KINDS } from "../../../model/roles.ts";
import { PROFILE_NAMES, type ProfileName } from "../../../profile/names.ts";
import type { PageModel } from "../../model/page-model.ts";
import { h } from "../dom.ts";
import type { App } from "../part.ts";
import { choice, number, refill } from "./fields.ts";
import { plannerOf } from "./planner.ts";

const VALUES = [
  ["edit.spacing", "pegs", "spacing_max_m"],
  ["edit.drive", "passage", "drive_min_m"],
  ["edit.mow", "passage", "mow_min_m"],
] as const;

export function machine(root: HTMLElement, app: App): void {
  const { words, model } = app.store.state;
  const planner = plannerOf(app);
  const { name: own, values } = model.machine;
  const isBuiltIn = (PROFILE_NAMES as readonly string[]).includes(own);
  refill(
    root,
    h("h2", {}, words.t("edit.machine")),
    choice(
      "profile",
      words.t("edit.profile"),
      [
        ...(isBuiltIn ? [] : [["", words.t("edit.own")] as const]),
        ...PROFILE_NAMES.map((one) => [one, one] as const),
      ],
      isBuiltIn ? own : "",
      (value) => value !== "" && planner.do({ edit: "profile", name: value as ProfileName }),
    ),
    h(
      "details",
      { open: root.querySelector("details")?.open === true },
      h("summary", {}, words.t("edit.setins")),
      ...EDGE_KINDS.map((kind) =>
        number(
          `setin-${kind}`,
          words.t(`edge.${kind}`),
          values.setin_m[kind],
          (setinM) => planner.do({ edit: "setin", by: "edges", name: kind, setinM }),
          { min: 0, max: 10 },
        ),
      ),
    ),
    ...VALUES.map(([label, group, key]) =>
      number(
        `value-${key}`,
        words.t(label),
        numberAt(values, group, key),
        (value) => planner.do({ edit: "profile-value", path: [group, key], value }),
        { min: 0 },
      ),
    ),
    choice(
      "parts",
      words.t("edit.parts"),
      [
        ["", words.t("edit.usual")],
        ...PARTS_CHOICES.map((one) => [one, words.t(`edit.parts.${one}`)] as const),
      ],
      planner.store.state.parts ?? "",
      (value) => planner.do({ edit: "parts", parts: value === "" ? null : (value as PartsChoice) }),
    ),
  );
}

function numberAt(
  values: PageModel["machine"]["values"],
  group: "pegs" | "passage",
  key: string,
): number | undefined {
  const value = (values[group] as Readonly<Record<string, unknown>>)[key];
  return typeof value === "number" ? value : undefined;
}
