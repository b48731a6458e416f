/** Line drawings of editing, in a square of 24. */
export const EDIT_ICONS = {
  change: "M4 20l1-5L16 4l4 4L9 19z M14 6l4 4",
  move: "M12 3v18 M3 12h18 M12 3l-3 3 M12 3l3 3 M12 21l-3-3 M12 21l3-3 M3 12l3-3 M3 12l3 3 M21 12l-3-3 M21 12l-3 3",
  reshape:
    "M6 7 18 5 19 17 8 19z M4.5 5.5h3v3h-3z M16.5 3.5h3v3h-3z M17.5 15.5h3v3h-3z M6.5 17.5h3v3h-3z",
  draw: "M5 18 8 6l10 3 2 8-9 3z M8 6m-2 0a2 2 0 1 0 4 0a2 2 0 1 0-4 0",
  edge: "M4 19V7l8-3 8 5v10z M4 19h16",
} as const;
