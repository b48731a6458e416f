/**
 * A long list as a grid (ARIA Authoring Practices, grid), of which only the rows in sight are made.
 * One stop of the Tab key; arrows, Page Up and Down, Home and End go through it, and each row that is
 * reached is taken.
 */
import { fill, h } from "./dom.ts";

export interface Column<R> {
  readonly head: string;
  readonly text: (row: R) => string;
  /** CSS width of a grid's column. */
  readonly width: string;
  readonly align?: "start" | "end";
}

export interface ListOptions<R> {
  readonly label: string;
  readonly columns: readonly Column<R>[];
  readonly rows: readonly R[];
  readonly idOf: (row: R) => string;
  /** Called when the reader takes a row. */
  take(row: R): void;
}

export interface List {
  readonly element: HTMLElement;
  /** Shows which row is taken, and brings it into sight; undefined for none. */
  mark(id: string | undefined): void;
}

const ROW_PX = matchMedia("(pointer: coarse)").matches ? 44 : 34;
/** Rows made beyond those in sight. */
const SPARE = 8;

let lists = 0;

export function list<R>({ label, columns, rows, idOf, take }: ListOptions<R>): List {
  const prefix = `list-${++lists}`;
  const template = columns.map(({ width }) => width).join(" ");
  const head = h(
    "div",
    { role: "row", class: "row head-row", "aria-rowindex": 1 },
    ...columns.map(({ head: text, align }) =>
      h("span", { role: "columnheader", class: align === "end" ? "end" : "" }, text),
    ),
  );
  head.style.gridTemplateColumns = template;
  const body = h("div", { class: "rows", role: "rowgroup" });
  body.style.height = `${rows.length * ROW_PX}px`;
  const element = h(
    "div",
    {
      class: "list",
      role: "grid",
      tabindex: 0,
      "aria-label": label,
      "aria-rowcount": rows.length + 1,
      "aria-readonly": "true",
    },
    h("div", { role: "rowgroup", class: "list-head" }, head),
    body,
  );
  let marked = -1;

  const draw = () => {
    const first = Math.max(0, Math.floor(element.scrollTop / ROW_PX) - SPARE);
    const count = Math.ceil((element.clientHeight || 600) / ROW_PX) + 2 * SPARE;
    const shown = rows.slice(first, first + count);
    fill(
      body,
      ...shown.map((row, i) => {
        const index = first + i;
        const line = h(
          "div",
          {
            role: "row",
            class: "row",
            id: `${prefix}-${index}`,
            "aria-rowindex": index + 2,
            "aria-selected": String(index === marked),
            click: () => take(row),
          },
          ...columns.map(({ text, align }) =>
            h("span", { role: "gridcell", class: align === "end" ? "end" : "" }, text(row)),
          ),
        );
        line.style.top = `${index * ROW_PX}px`;
        line.style.height = `${ROW_PX}px`;
        line.style.gridTemplateColumns = template;
        return line;
      }),
    );
    const isMade = marked >= first && marked < first + shown.length;
    if (isMade) element.setAttribute("aria-activedescendant", `${prefix}-${marked}`);
    else element.removeAttribute("aria-activedescendant");
  };

  const reach = (index: number) => {
    const row = rows[Math.min(rows.length - 1, Math.max(0, index))];
    if (row) take(row);
  };
  element.addEventListener("scroll", draw, { passive: true });
  new ResizeObserver(draw).observe(element);
  element.addEventListener("keydown", (event) => {
    const page = Math.max(1, Math.floor(element.clientHeight / ROW_PX) - 2);
    const to = {
      ArrowDown: marked + 1,
      ArrowUp: marked < 0 ? 0 : marked - 1,
      PageDown: marked + page,
      PageUp: marked - page,
      Home: 0,
      End: rows.length - 1,
      Enter: marked,
    }[event.key];
    if (to === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    reach(to);
  });
  draw();
  return {
    element,
    mark(id) {
      marked = id === undefined ? -1 : rows.findIndex((row) => idOf(row) === id);
      if (marked >= 0) {
        const top = marked * ROW_PX;
        const room = element.clientHeight - HEAD_PX - ROW_PX;
        if (top < element.scrollTop) element.scrollTop = top;
        else if (top > element.scrollTop + room) element.scrollTop = Math.max(0, top - room);
      }
      draw();
    },
  };
}

/** Height of the row of heads. */
const HEAD_PX = 34;
