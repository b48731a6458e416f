/** Every word on a drawing that is ours, in one place. */
import type { EdgeKind, Role } from "../../model/roles.ts";

export const ROLE_WORDS: Readonly<Partial<Record<Role, string>>> = {
  lawn: "lawn",
  bed: "bed",
  water: "water",
  gravel: "gravel",
  paving: "paving",
  building: "building",
  firm: "wall, post, other firm thing",
  tree: "tree",
  "keep-out": "to be kept out of",
};

export const EDGE_WORDS: Readonly<Record<EdgeKind, string>> = {
  open: "open edge",
  wall: "wall",
  fence: "fence",
  hedge: "hedge",
  kerb: "kerb",
  flush: "flush edge",
  water: "water's edge",
  drop: "drop",
};

export const WORDS = {
  drawing: "Boundary wire: loops and pegs",
  overview: "Boundary wire: overview",
  notes: "Boundary wire: schedules and notes",
  project: "Project",
  client: "Client",
  title: "Drawing",
  number: "Drawing no.",
  drawnBy: "Drawn by",
  checkedBy: "Checked by",
  date: "Date",
  revision: "Revision",
  scale: "Scale",
  sheet: "Sheet",
  sheetOf: (number: number, count: number) => `${number} of ${count}`,
  scaleOn: (scale: number, paper: string) => `1:${scale} on ${paper}`,
  noScale: "none",
  madeBy: (tool: string, machine: string) => `Made with ${tool}. Machine: ${machine}.`,
  grid: (lat: string, lon: string) =>
    `Site grid: transverse Mercator (WGS 84) about ${lat}, ${lon}. North is grid north. All dimensions in metres.`,
  north: "N",
  metres: "m",
  print: "Print at 100 %: this bar measures",
  legend: "Legend",
  keyPlan: "Key plan",
  loops: "Loops",
  passages: "Passages",
  setins: "Set-in, edge to wire",
  cautions: "Cautions",
  errors: "NOT FOR LAYING",
  errorsText: (count: number) =>
    count === 1
      ? "One finding of severity error stands:"
      : `${count} findings of severity error stand:`,
  revisions: "Revisions",
  continued: "continued",
  loop: "Loop",
  total: "all",
  wire: "wire m",
  onGround: "ground m",
  pegs: "pegs",
  paired: "paired m",
  islands: "islands",
  mown: "mown m²",
  ohm: "ohm",
  passage: "No.",
  width: "width m",
  wireWidth: "wire to wire",
  verdict: "verdict",
  verdicts: { mow: "mown", drive: "driven through", shut: "shut" },
  quantities: "Wire and pegs to buy",
  buyWire: (m: string, laid: string) => `Wire ${m} m, of which ${laid} m are laid`,
  buyPegs: (count: number, set: number) => `Pegs ${count}, of which ${set} are set`,
  buyReels: (reels: number, reelM: string, joints: number) =>
    `Reels ${reels} of ${reelM} m; joints ${joints}`,
  areas: (mown: string, trim: string, cutOff: string) =>
    `Mown ${mown} m²; to trim by hand ${trim} m²; cut off ${cutOff} m²`,
  ohmNote:
    "ohm: what a meter shows across the two ends at 20 °C, disconnected from the station; bounds in the summary.",
  pegStraight: "peg on a straight run",
  pegBend: "peg on a bend",
  pegPair: "peg of a pair: both wires",
  pegNumbers: (every: number) =>
    every === 1
      ? "pegs are numbered along the wire"
      : `every ${every}th peg and corners are numbered`,
  arrow: "direction of laying",
  pairNote: "paired run: two wires close together (drawn apart)",
  stationName: "Station",
  station: "station; the machine drives in as the arrow shows",
  outlet: "outlet",
  control: "control point",
  edge: "edge of lawn",
  setinMark: "set-in, metres",
  passageMark: "passage: width, between wires",
  loopWire: (metres: string) => `${metres} m of wire`,
  loopMown: (m2: string) => `${m2} m² mown`,
  seeSheet: (number: number) => `sheet ${number}`,
  guideName: "guide wire",
  image: (name: string) => `Picture beneath: ${name}`,
  yes: "yes",
} as const;
