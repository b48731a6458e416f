/** Colours of the map: those of the drawings on white; on black their lighter neighbours. */
import { PALETTE } from "../../../export/style/palette.ts";

export type LookName = "light" | "dark" | "contrast-light" | "contrast-dark" | "forced";

export interface Look {
  readonly name: LookName;
  readonly isDark: boolean;
  readonly ground: string;
  readonly ink: string;
  /** Round letters and what is selected, so that they stand out. */
  readonly halo: string;
  readonly selected: string;
  /** A colour of the drawings as this look shows it. */
  colour(drawn: string): string;
  /** How strong areas are tinted, as a share of the drawings' opacity. */
  readonly tint: number;
  /** How wide lines are, as a share of the drawings' width. */
  readonly weight: number;
}

/** Lighter neighbours of the palette's colours, for a dark ground: at least 4.5 : 1 against it. */
const ON_DARK: Readonly<Record<string, string>> = {
  [PALETTE.black]: "#f2f2ee",
  [PALETTE.white]: "#12181b",
  [PALETTE.blue]: "#5ec0ff",
  [PALETTE.skyBlue]: "#a5daf8",
  [PALETTE.green]: "#2fd0a2",
  [PALETTE.vermilion]: "#ff8a3c",
  [PALETTE.purple]: "#ee9ecb",
  "#767676": "#a6acab",
  "#8a6200": "#dcb35a",
};

const plain = (drawn: string) => drawn;
const onDark = (drawn: string) => ON_DARK[drawn] ?? drawn;

const LOOKS: Readonly<Record<Exclude<LookName, "forced">, Look>> = {
  light: {
    name: "light",
    isDark: false,
    ground: "#f7f6f1",
    ink: "#000000",
    halo: "#ffffff",
    selected: PALETTE.orange,
    colour: plain,
    tint: 1,
    weight: 1,
  },
  dark: {
    name: "dark",
    isDark: true,
    ground: "#12181b",
    ink: "#f2f2ee",
    halo: "#12181b",
    selected: PALETTE.yellow,
    colour: onDark,
    tint: 0.9,
    weight: 1,
  },
  "contrast-light": {
    name: "contrast-light",
    isDark: false,
    ground: "#ffffff",
    ink: "#000000",
    halo: "#ffffff",
    selected: PALETTE.vermilion,
    colour: plain,
    tint: 0.5,
    weight: 1.5,
  },
  "contrast-dark": {
    name: "contrast-dark",
    isDark: true,
    ground: "#000000",
    ink: "#ffffff",
    halo: "#000000",
    selected: PALETTE.yellow,
    colour: (drawn) => (drawn === PALETTE.black ? "#ffffff" : onDark(drawn)),
    tint: 0.5,
    weight: 1.5,
  },
};

/** The system's own colours, where it puts them in the place of all others. */
function forcedLook(): Look {
  const system = (keyword: string) => {
    const probe = document.createElement("span");
    probe.style.color = keyword;
    document.body.append(probe);
    const { color } = getComputedStyle(probe);
    probe.remove();
    return color;
  };
  const [ink, ground, link, mark, dim] = [
    "CanvasText",
    "Canvas",
    "LinkText",
    "Highlight",
    "GrayText",
  ].map(system) as [string, string, string, string, string];
  const wires: readonly string[] = [PALETTE.blue, PALETTE.skyBlue];
  const isGrey = (drawn: string) => drawn === "#767676" || drawn === "#8a6200";
  return {
    name: "forced",
    isDark: false,
    ground,
    ink,
    halo: ground,
    selected: mark,
    colour: (drawn) => {
      if (drawn === PALETTE.white) return ground;
      return wires.includes(drawn) ? link : isGrey(drawn) ? dim : ink;
    },
    tint: 0,
    weight: 1.5,
  };
}

/** What paper wants, whatever the screen shows. */
export const LIGHT: Look = LOOKS.light;

export interface LookWish {
  readonly scheme: "auto" | "light" | "dark";
  readonly contrast: "auto" | "more";
}

const asks = (query: string) => matchMedia(query).matches;

/** The look that the device and the reader ask for. */
export function lookFor({ scheme, contrast }: LookWish): Look {
  if (asks("(forced-colors: active)")) return forcedLook();
  const dark = scheme === "auto" ? asks("(prefers-color-scheme: dark)") : scheme === "dark";
  const more = contrast === "more" || asks("(prefers-contrast: more)");
  return LOOKS[more ? (dark ? "contrast-dark" : "contrast-light") : dark ? "dark" : "light"];
}

/** Calls when the device asks for another look. */
export function onLookChange(listener: () => void): void {
  for (const query of [
    "(prefers-color-scheme: dark)",
    "(prefers-contrast: more)",
    "(forced-colors: active)",
  ]) {
    matchMedia(query).addEventListener("change", listener);
  }
}
