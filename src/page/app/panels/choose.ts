import { h } from "../dom.ts";

/** A field with a few choices. */
export function choose(
  label: string,
  name: string,
  options: readonly (readonly [value: string, text: string])[],
  chosen: string,
  change: (value: string) => void,
): HTMLElement {
  const select = h(
    "select",
    { name },
    ...options.map(([value, text]) => h("option", { value, selected: value === chosen }, text)),
  );
  select.addEventListener("change", () => change(select.value));
  return h("label", { class: "field" }, h("span", {}, label), select);
}
