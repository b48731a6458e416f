import type { Finding } from "../../model/finding.ts";
import type { Plan } from "../../model/plan.ts";
import {
  SCHEDULE_DEFAULT,
  type ScheduleRules,
  WEEKDAYS,
  type Weekday,
} from "../../model/site-rules.ts";
import type { PlanOnGround } from "../../model/terrain.ts";
import { clockOf, minutesOf, type Span, without } from "./clock.ts";

/** One entry of the timetable: the machine is on its way or charging within it. */
export interface Shift extends Span {
  readonly day: Weekday;
}

/** What a week asks of one machine. Hours. */
export interface LoopSchedule {
  readonly loop: string;
  readonly areaM2: number;
  /** Mean slope of the lawn, percent; undefined where no heights are given. */
  readonly slopePercent?: number | undefined;
  readonly mowingH: number;
  readonly chargingH: number;
  /** Hours a week within which the machine may be out. */
  readonly availableH: number;
  /** (mowing + charging) / available; above 1 the machine is too small. */
  readonly load: number;
  readonly shifts: readonly Shift[];
}

/** Shifts begin and end on full steps. */
const STEP_MIN = 5;

/** Earlier or later than this is night: hedgehogs and neighbours. */
const NIGHT: Span = { fromMin: 6 * 60, toMin: 21 * 60 };

/**
 * A weekly timetable for each loop and its machine.
 *
 * Mowing time is the area times the passes wanted in a week, over what the blades cover in an hour;
 * with random drives, k passes leave a share of e^−k uncut (Poisson; elementary). Charging follows
 * from the run and charge times of the profile. On a slope the lawn is larger than on the map and the
 * machine slower: by `slopeTimeShare` at the steepest that it mows, in proportion below. The hours are spread over the days allowed, as evenly
 * as their quiet times let them, from the start of each day.
 */
export function scheduleOf(
  plan: Plan,
  rules: ScheduleRules = SCHEDULE_DEFAULT,
  ground?: PlanOnGround,
): LoopSchedule[] {
  const windows = windowsOf(rules);
  const availableMin = windows.reduce((sum, { spans }) => sum + minutesIn(spans), 0);
  const { work, terrain } = plan.profile;
  const { speedMPerS, cutWidthM, runMin, chargeMin, passesPerWeek } = work;
  return plan.loops.map(({ name }, i) => {
    const { meanPercent: slopePercent, stretch = 1 } = ground?.lawns[i] ?? {};
    const climb = Math.min(1, (slopePercent ?? 0) / terrain.slopeMaxPercent);
    const slower = stretch * (1 + work.slopeTimeShare * climb);
    const areaM2 = plan.mown.reduce((sum, one) => (one.loop === name ? sum + one.areaM2 : sum), 0);
    const mowingH = (slower * areaM2 * passesPerWeek) / (speedMPerS * cutWidthM * 3600);
    const chargingH = (mowingH * chargeMin) / runMin;
    const neededMin = 60 * (mowingH + chargingH);
    return {
      loop: name,
      areaM2,
      ...(slopePercent === undefined ? {} : { slopePercent }),
      mowingH,
      chargingH,
      availableH: availableMin / 60,
      load: availableMin > 0 ? neededMin / availableMin : Infinity,
      shifts: shiftsOf(windows, neededMin),
    };
  });
}

interface DayWindows {
  readonly day: Weekday;
  readonly spans: readonly Span[];
}

function windowsOf({ from, to, days, quiet }: ScheduleRules): DayWindows[] {
  return WEEKDAYS.filter((day) => days.includes(day)).map((day) => {
    let spans: Span[] = [{ fromMin: minutesOf(from), toMin: minutesOf(to) }];
    for (const one of quiet) {
      if (one.days && !one.days.includes(day)) continue;
      spans = without(spans, { fromMin: minutesOf(one.from), toMin: minutesOf(one.to) });
    }
    return { day, spans };
  });
}

const minutesIn = (spans: readonly Span[]) =>
  spans.reduce((sum, { fromMin, toMin }) => sum + toMin - fromMin, 0);

/** Fills the days evenly; days too short give what they have and the others take the rest. */
function shiftsOf(windows: readonly DayWindows[], neededMin: number): Shift[] {
  const byRoom = [...windows].sort((a, b) => minutesIn(a.spans) - minutesIn(b.spans));
  const takes = new Map<Weekday, number>();
  let leftMin = neededMin;
  byRoom.forEach(({ day, spans }, i) => {
    const fair = Math.ceil(leftMin / (byRoom.length - i) / STEP_MIN) * STEP_MIN;
    const take = Math.min(minutesIn(spans), fair);
    takes.set(day, take);
    leftMin = Math.max(0, leftMin - take);
  });
  return windows.flatMap(({ day, spans }) => {
    let rest = takes.get(day)!;
    return spans.flatMap(({ fromMin, toMin }) => {
      const minutes = Math.min(rest, toMin - fromMin);
      rest -= minutes;
      return minutes > 0 ? [{ day, fromMin, toMin: fromMin + minutes }] : [];
    });
  });
}

/** What a fitter should know of the timetable. */
export function scheduleFindings(
  schedules: readonly LoopSchedule[],
  rules: ScheduleRules = SCHEDULE_DEFAULT,
): Finding[] {
  return [...schedules.flatMap(tooSmall), ...atNight(rules)];
}

function tooSmall({ loop, load, mowingH, chargingH, availableH }: LoopSchedule): Finding[] {
  if (load <= 1) return [];
  const needs = `${(mowingH + chargingH).toFixed(1)} hours a week (${mowingH.toFixed(1)} of mowing, ${chargingH.toFixed(1)} of charging)`;
  return [
    {
      code: "MACHINE_TOO_SMALL",
      severity: "warning",
      message: `Loop ${loop} needs ${needs}, but only ${availableH.toFixed(1)} are allowed.`,
      remedy:
        "Choose a larger machine, divide the lawn, allow more hours, or ask for fewer passes a week.",
    },
  ];
}

function atNight({ from, to }: ScheduleRules): Finding[] {
  if (minutesOf(from) >= NIGHT.fromMin && minutesOf(to) <= NIGHT.toMin) return [];
  return [
    {
      code: "MOWING_AT_NIGHT",
      severity: "warning",
      message: `The hours allowed, ${from} to ${to}, reach into the night.`,
      remedy: `Night running harms hedgehogs and other wildlife, and many places restrict it: keep between ${clockOf(NIGHT.fromMin)} and ${clockOf(NIGHT.toMin)}, or by daylight.`,
    },
  ];
}
