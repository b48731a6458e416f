/** Elements, made one by one: text is text, never markup. */

type Child = Node | string | undefined | false;

export interface Attributes {
  readonly [name: string]:
    | string
    | number
    | boolean
    | undefined
    | ((event: never) => void)
    | readonly string[];
}

/**
 * An element with attributes and children.
 *
 * @param attributes `class`, `aria-…` and the like as attributes; `true` sets an empty one, `false`
 *   and undefined none; functions by the names of events (`click`) listen
 */
export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === false) continue;
    if (typeof value === "function") element.addEventListener(name, value as EventListener);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  append(element, ...children);
  return element;
}

export function append(parent: Node, ...children: readonly Child[]): void {
  for (const child of children) {
    if (child === undefined || child === false) continue;
    parent.appendChild(typeof child === "string" ? document.createTextNode(child) : child);
  }
}

/** Takes out all that is in an element and puts these in. */
export function fill(parent: Element, ...children: readonly Child[]): void {
  parent.replaceChildren();
  append(parent, ...children);
}

/** Text of the inputs: its direction of writing is its own. */
export const name = (text: string) => h("bdi", {}, text);

const SVG = "http://www.w3.org/2000/svg";

/** A line drawing in a square of 24, in the colour of the text; it says nothing to screen readers. */
export function icon(path: string): SVGSVGElement {
  const svg = document.createElementNS(SVG, "svg");
  for (const [key, value] of Object.entries({
    viewBox: "0 0 24 24",
    class: "icon",
    "aria-hidden": "true",
    focusable: "false",
  })) {
    svg.setAttribute(key, value);
  }
  const line = document.createElementNS(SVG, "path");
  line.setAttribute("d", path);
  svg.append(line);
  return svg;
}
