/** What a shape, peg or finding is called and what is known of it, in the reader's words. */
import type { Figure, PageFinding, PageModel, PagePeg, PageShape } from "../model/page-model.ts";
import type { Words } from "../words/words.ts";
import type { AppState } from "./part.ts";

export interface Description {
  /** What it is: `Peg`, `Bed`. */
  readonly kind: string;
  /** What it is called; empty where it has no name. */
  readonly name: string;
  readonly figures: readonly { readonly label: string; readonly value: string }[];
  /** Longer text, for findings. */
  readonly text?: string;
}

export function describe(id: string, { model, words }: AppState): Description | undefined {
  const peg = model.pegs.find((one) => one.id === id);
  if (peg) return describePeg(peg, words);
  const shape = model.shapes.find((one) => one.id === id);
  if (shape) return describeShape(shape, words);
  const finding = model.findings.find((one) => one.id === id);
  return finding && describeFinding(finding, words);
}

const shown = (figures: readonly Figure[], words: Words) =>
  figures.map(({ label, value }) => ({ label: words.t(label), value: words.figure(value) }));

function describeShape(shape: PageShape, words: Words): Description {
  const isThing = shape.kind === "thing" && shape.role !== undefined;
  return {
    kind: capital(words.t(isThing ? `role.${shape.role!}` : `kind.${shape.kind}`)),
    name: shape.name,
    figures: shown(
      shape.figures.filter(({ label }) => !(isThing && label === "figure.role")),
      words,
    ),
  };
}

function describePeg(peg: PagePeg, words: Words): Description {
  const { number, chainageM, secondChainageM, heightM, reason, at } = peg;
  const figures: Figure[] = [
    { label: "figure.reason", value: { word: `reason.${reason}` } },
    { label: "figure.chainage", value: { lengthM: chainageM } },
    ...(secondChainageM === undefined
      ? []
      : [{ label: "figure.secondChainage", value: { lengthM: secondChainageM } } as const]),
    { label: "figure.east", value: { lengthM: at[0] } },
    { label: "figure.north", value: { lengthM: at[1] } },
    ...(heightM === undefined
      ? []
      : [{ label: "figure.height", value: { lengthM: heightM } } as const]),
  ];
  return { kind: words.t("kind.peg"), name: number, figures: shown(figures, words) };
}

function describeFinding(finding: PageFinding, words: Words): Description {
  const { code, severity, message, remedy, where } = finding;
  return {
    kind: capital(words.t(`severity.${severity}`)),
    name: code,
    text: message,
    figures: [
      { label: words.t("figure.remedy"), value: remedy },
      ...(where === "" ? [] : [{ label: words.t("figure.where"), value: where }]),
    ],
  };
}

const capital = (text: string) => text.charAt(0).toLocaleUpperCase() + text.slice(1);

/** In one line, for what is read out. */
export function spoken({ kind, name, figures, text }: Description): string {
  const head = name === "" ? kind : `${kind} ${name}`;
  const rest = figures.map(({ label, value }) => `${label}: ${value}`);
  return [head, ...(text ? [text] : []), ...rest].join(". ");
}

/** Ids of all that can be stepped through on the map, in the order of stepping. */
export function stepsOf(model: PageModel): string[] {
  const shapes = (...kinds: readonly string[]) =>
    model.shapes.filter(({ kind }) => kinds.includes(kind)).map(({ id }) => id);
  return [
    ...shapes("station"),
    ...model.findings.filter(({ at, severity }) => at && severity !== "info").map(({ id }) => id),
    ...shapes("passage", "exclusion-loop", "thing", "run-ground", "paired-run", "guide-wire"),
    ...shapes("boundary-wire", "cut-off-area", "hand-trim", "mown-area"),
    ...shapes("joint", "outlet", "control"),
  ];
}
