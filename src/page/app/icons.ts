/** Line drawings in a square of 24, our own. */
export const ICONS = {
  plan: "M4 4h16v16H4z M7 16c0-6 2-9 5-9s5 3 5 9z M12 16v-3",
  map: "M12 4 3 8.5l9 4.5 9-4.5z M3 12.5 12 17l9-4.5 M3 16l9 4.5 9-4.5",
  walk: "M5 20c0-5 14-3 14-8S7 10 7 5 M7 5m-2 0a2 2 0 1 0 4 0a2 2 0 1 0-4 0 M12 12.5m-1.6 0a1.6 1.6 0 1 0 3.2 0a1.6 1.6 0 1 0-3.2 0",
  pegs: "M7 4h4v3H9.8v13L9 22l-.8-2V7H7z M15 4h4v3h-1.2v13L17 22l-.8-2V7H15z",
  passages: "M5 3v5l4 4-4 4v5 M19 3v5l-4 4 4 4v5 M10.5 12h3",
  findings: "M12 3l9 16H3z M12 9v5 M12 16.4v.8",
  materials:
    "M12 12m-8 0a8 8 0 1 0 16 0a8 8 0 1 0-16 0 M12 12m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0 M20 12v8h2",
  print: "M7 9V4h10v5 M7 17H4V9h16v8h-3 M7 14h10v6H7z",
  plus: "M12 5v14 M5 12h14",
  minus: "M5 12h14",
  all: "M4 9V4h5 M15 4h5v5 M20 15v5h-5 M9 20H4v-5 M9 9h6v6H9z",
  distance: "M3 17 17 3l4 4L7 21z M7 13l2 2 M10 10l2 2 M13 7l2 2",
  area: "M4 18 7 5l11 2 2 9z M4 18m-1.4 0a1.4 1.4 0 1 0 2.8 0a1.4 1.4 0 1 0-2.8 0 M7 5m-1.4 0a1.4 1.4 0 1 0 2.8 0a1.4 1.4 0 1 0-2.8 0 M18 7m-1.4 0a1.4 1.4 0 1 0 2.8 0a1.4 1.4 0 1 0-2.8 0",
  position: "M12 12m-5 0a5 5 0 1 0 10 0a5 5 0 1 0-10 0 M12 2v5 M12 17v5 M2 12h5 M17 12h5",
  close: "M6 6l12 12 M18 6 6 18",
  left: "M15 5l-7 7 7 7",
  right: "M9 5l7 7-7 7",
  down: "M5 9l7 7 7-7",
  up: "M5 15l7-7 7 7",
} as const;
