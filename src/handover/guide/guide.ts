/** The laying guide as data: sections of steps, each step said by keys of the catalogue. */
import type { MessageKey } from "../words/messages.ts";

/** What stands in the place of a placeholder. Text is text of the inputs (names) or a peg's number. */
export type Value =
  | string
  | number
  | { readonly lengthM: number }
  /** A size that is a round figure, such as that of a reel. */
  | { readonly sizeM: number }
  | { readonly areaM2: number }
  | { readonly ohm: number }
  /** Names of the inputs, with a sign where there are more than are named. */
  | { readonly names: readonly string[]; readonly more: boolean }
  /** Phrases and numbers of pegs, with commas between. */
  | { readonly list: readonly (string | Say)[] }
  | Say;

/** One sentence or phrase: a key of the catalogue, and what stands in its placeholders. */
export interface Say {
  readonly key: MessageKey;
  readonly values?: Readonly<Record<string, Value>>;
}

export type StepKind =
  | "station"
  | "straight"
  | "curve"
  | "leave"
  | "back"
  | "joint"
  | "guide-wire"
  | "close"
  | "test"
  | "note";

/** One thing to do, in order. */
/** Steps deeper than this are indented no further: on estates runs lead from island to island. */
export const DEPTH_SHOWN_MOST = 5;

export interface GuideStep {
  readonly kind: StepKind;
  /** How many paired runs lead from the edge to where it is done; 0 on the edge. */
  readonly depth: number;
  /** Sentences in reading order. */
  readonly say: readonly Say[];
  /** First and last peg of what is laid in this step. */
  readonly pegs?: readonly [from: string, to: string];
  /** Wire laid in this step, metres; along the ground where that is known. */
  readonly laidM?: number;
  /** Wire laid since the station once the step is done, metres. */
  readonly chainageM?: number;
}

export interface GuideSection {
  readonly title: Say;
  /** Loop that it is about; undefined for what concerns the whole plan. */
  readonly loop?: string;
  readonly part: "before" | "lay" | "prove" | "mind";
  /** Whether its steps are numbered. */
  readonly isNumbered: boolean;
  readonly steps: readonly GuideStep[];
}

export interface Guide {
  readonly title: Say;
  readonly sections: readonly GuideSection[];
}
