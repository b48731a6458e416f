import { breakResult } from "../../src/export/break-result.ts";
import { breakText } from "../../src/export/break-text.ts";
import type { Answer } from "../../src/handover/mend/break-search.ts";
import { mendLoop } from "../../src/handover/mend/mend-loop.ts";
import { readPlan } from "../../src/jobs/read-plan.ts";
import { chooseProfile } from "../choose-profile.ts";
import { epsgRegistry } from "../epsg-registry.ts";
import { exitOf } from "../exit-codes.ts";
import { openInputs } from "../open-inputs.ts";
import { planFileOf } from "../plan-file.ts";
import { misuse, Refusal } from "../refusal.ts";
import { type CommonOptions, Terminal } from "../terminal.ts";

export interface BreakOptions extends CommonOptions {
  readonly loop?: string;
  /** Stretches as `A1-A40`, in the order in which they were tested. */
  readonly tested?: readonly { readonly stretch: string; readonly carries: boolean }[];
  readonly joint?: readonly string[];
  readonly nanofarad?: readonly [number, number];
  readonly leakOhm?: readonly [number, number];
  readonly ohmPerKm?: number;
  readonly profile?: string;
}

/** `pegline break PLAN`: leads the search for a break in a loop's wire. */
export async function breakCommand(
  path: string | undefined,
  options: BreakOptions,
): Promise<number> {
  if (path === undefined) {
    throw misuse(
      "INPUT_MISSING",
      "No plan is named.",
      "Name the plan of the wire: `pegline break garden/plan.geojson`.",
    );
  }
  const terminal = new Terminal(options);
  const answers = (options.tested ?? []).map(answerOf);
  const chosen = await chooseProfile(options.profile, undefined);
  const [file] = await openInputs([await planFileOf(path)]);
  const read = await readPlan(file!, { registry: epsgRegistry });
  if (!read.ok) throw new Refusal(read.problem);
  const { plan, grid } = read.value;
  const mending = mendLoop(plan, {
    loop: options.loop,
    answers,
    joints: options.joint ?? [],
    capacitanceNf: options.nanofarad,
    leakOhm: options.leakOhm,
    ohmPerKm: options.ohmPerKm ?? chosen.profile.wire.ohmPerKm,
  });
  if (!mending.ok) throw new Refusal(mending.problem);
  const findings = [...chosen.findings, ...read.findings];
  const result = breakResult(mending.value, findings, grid);
  terminal.result(result, () => breakText(mending.value));
  terminal.findings(result.findings);
  return exitOf(result.findings);
}

/** `A1-A40`, also with a dash that a word processor made of it. */
function answerOf({ stretch, carries }: { stretch: string; carries: boolean }): Answer {
  const [from, to, more] = stretch.split(/\s*[-–—]\s*|\.\./);
  if (!from || !to || more !== undefined) {
    throw misuse(
      "STRETCH_INVALID",
      `${stretch} is no stretch of wire.`,
      "Write it from peg to peg, like A1-A40.",
    );
  }
  return { from: placeName(from), to: placeName(to), carries };
}

const placeName = (text: string): string =>
  /^(?:start|end)$/i.test(text.trim()) ? text.trim().toLowerCase() : text.trim().toUpperCase();
