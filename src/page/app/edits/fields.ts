/** Fields of the panel: each known by a key, so that a panel drawn anew keeps the reader's place. */
import { fill, h } from "../dom.ts";
import { choose } from "../panels/choose.ts";

/** A button with words. */
export function button(
  key: string,
  text: string,
  press: () => void,
  { disabled = false, main = false } = {},
): HTMLButtonElement {
  const made = h(
    "button",
    { type: "button", class: main ? "button main" : "button", disabled, click: press },
    text,
  );
  made.dataset.key = key;
  return made;
}

/** A choice; the value that stands for none is the empty text. */
export function choice(
  key: string,
  label: string,
  options: readonly (readonly [value: string, text: string])[],
  chosen: string,
  change: (value: string) => void,
): HTMLElement {
  const field = choose(label, key, options, chosen, change);
  field.querySelector("select")!.dataset.key = key;
  return field;
}

/** A number, taken when it is left or Enter is pressed; empty is null. */
export function number(
  key: string,
  label: string,
  value: number | undefined,
  change: (value: number | null) => void,
  { step = 0.01, min, max }: { step?: number; min?: number; max?: number } = {},
): HTMLElement {
  const input = h("input", {
    type: "number",
    name: key,
    step,
    min,
    max,
    inputmode: "decimal",
    value: value === undefined ? "" : String(value),
  });
  input.dataset.key = key;
  input.addEventListener("change", () => {
    if (input.value === "") change(null);
    else if (Number.isFinite(input.valueAsNumber)) change(input.valueAsNumber);
  });
  return h("label", { class: "field" }, h("span", {}, label), input);
}

/** The value that stands in a field of a panel now; undefined where it is empty. */
export function valueIn(root: HTMLElement, key: string): number | undefined {
  const input = root.querySelector<HTMLInputElement>(`input[name="${key}"]`);
  return input && Number.isFinite(input.valueAsNumber) ? input.valueAsNumber : undefined;
}

/** Fills a part of a panel again; what had the focus in it has it again, with what was typed. */
export function refill(root: HTMLElement, ...children: Parameters<typeof fill>[1][]): void {
  const active = document.activeElement;
  const key =
    active instanceof HTMLElement && root.contains(active) ? active.dataset.key : undefined;
  fill(root, ...children);
  if (key === undefined) return;
  for (const one of root.querySelectorAll<HTMLElement>("[data-key]")) {
    if (one.dataset.key === key) one.focus();
  }
}
