import ICAL from "ical.js";
import { describe, expect, it } from "vitest";
import { icalendar } from "../../src/export/icalendar.ts";
import { without } from "../../src/handover/schedule/clock.ts";
import { scheduleFindings, scheduleOf } from "../../src/handover/schedule/schedule.ts";
import type { Plan } from "../../src/model/plan.ts";
import { SCHEDULE_DEFAULT, type ScheduleRules } from "../../src/model/site-rules.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";

/** A plan of which the timetable sees only loops, mown areas and the machine. */
function planWith(areas: readonly number[]): Plan {
  const profile = {
    ...builtInProfile(),
    work: {
      speedMPerS: 0.5,
      cutWidthM: 0.2,
      runMin: 60,
      chargeMin: 30,
      slopeTimeShare: 0,
      passesPerWeek: 2,
    },
  };
  const names = areas.map((_, i) => String.fromCharCode(65 + i));
  return {
    profile,
    loops: names.map((name) => ({ name })),
    mown: areas.map((areaM2, i) => ({ loop: names[i], part: i + 1, areas: [], areaM2 })),
  } as unknown as Plan;
}

const minutes = (shifts: readonly { fromMin: number; toMin: number }[]) =>
  shifts.reduce((sum, { fromMin, toMin }) => sum + toMin - fromMin, 0);

describe("weekly timetable", () => {
  it("mowing is area × passes / (speed × width), charging follows from run and charge times", () => {
    // 1,800 m² twice at 0.5 m/s and 0.2 m: 3,600 m² / 360 m² an hour is 10 h; charging half of it.
    const [one] = scheduleOf(planWith([1800]));
    expect(one!.mowingH).toBeCloseTo(10, 10);
    expect(one!.chargingH).toBeCloseTo(5, 10);
    expect(one!.availableH).toBe(72);
    expect(one!.load).toBeCloseTo(15 / 72, 10);
    expect(minutes(one!.shifts)).toBe(15 * 60);
    expect(one!.shifts.map(({ day }) => day)).toEqual(["mon", "tue", "wed", "thu", "fri", "sat"]);
  });

  it("keeps quiet times free and gives short days less", () => {
    const rules: ScheduleRules = {
      from: "09:00",
      to: "18:00",
      days: ["mon", "wed", "sat"],
      quiet: [
        { from: "12:00", to: "14:00" },
        { from: "10:00", to: "24:00", days: ["sat"] },
      ],
    };
    const [one] = scheduleOf(planWith([1440]), rules);
    expect(one!.availableH).toBe(7 + 7 + 1);
    expect(minutes(one!.shifts)).toBe(12 * 60);
    for (const { day, fromMin, toMin } of one!.shifts) {
      expect(fromMin).toBeGreaterThanOrEqual(9 * 60);
      expect(toMin).toBeLessThanOrEqual(day === "sat" ? 10 * 60 : 18 * 60);
      expect(toMin <= 12 * 60 || fromMin >= 14 * 60).toBe(true);
    }
    expect(minutes(one!.shifts.filter(({ day }) => day === "sat"))).toBe(60);
  });

  it("says where a machine is too small, and where hours reach into the night", () => {
    const schedules = scheduleOf(planWith([1800, 20_000]));
    expect(scheduleFindings(schedules).map(({ code }) => code)).toEqual(["MACHINE_TOO_SMALL"]);
    expect(scheduleFindings(schedules)[0]!.message).toContain("Loop B needs 166.7 hours");
    const night = { ...SCHEDULE_DEFAULT, to: "23:00" };
    expect(scheduleFindings([], night).map(({ code }) => code)).toEqual(["MOWING_AT_NIGHT"]);
  });

  it("takes spans apart", () => {
    const day = [{ fromMin: 480, toMin: 1200 }];
    expect(without(day, { fromMin: 0, toMin: 1440 })).toEqual([]);
    expect(without(day, { fromMin: 300, toMin: 480 })).toEqual(day);
    expect(without(day, { fromMin: 600, toMin: 660 })).toHaveLength(2);
  });
});

// Read back by ical.js, a general-purpose parser of RFC 5545.
describe("schedule.ics", () => {
  const schedules = scheduleOf(planWith([1800, 900]), {
    ...SCHEDULE_DEFAULT,
    days: ["tue", "sun"],
  });
  const name = 'Lower; lawn, "éß漢" \\ END:VEVENT\nBEGIN:VALARM and more words to fold the line';
  const text = icalendar(name, schedules, "2030-03-28");
  const calendar = new ICAL.Component(ICAL.parse(text));
  const events = calendar.getAllSubcomponents("vevent").map((one) => new ICAL.Event(one));

  it("has an event for each shift, weekly, on the right days from the first day on", () => {
    expect(events).toHaveLength(4);
    // 28 March 2030 is a Thursday (Gauss's formula), so Sunday is the 31st, Tuesday the 2nd of April.
    expect(events.map((event) => event.startDate.toString())).toEqual([
      "2030-04-02T08:00:00",
      "2030-03-31T08:00:00",
      "2030-04-02T08:00:00",
      "2030-03-31T08:00:00",
    ]);
    for (const event of events) {
      expect(event.isRecurring()).toBe(true);
      const [first, second] = [0, 1].map(
        (
          (iterator) => () =>
            iterator.next()
        )(event.iterator()),
      );
      expect(second!.subtractDate(first!).toSeconds()).toBe(7 * 86_400);
    }
    expect(events[0]!.duration.toSeconds()).toBe(7.5 * 3600);
  });

  it("holds hostile names as text, in lines of at most 75 octets", () => {
    expect(events[0]!.summary).toBe(`Mowing, loop A, ${name}`);
    for (const line of text.split("\r\n")) {
      expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    }
    expect(new Set(events.map((event) => event.uid)).size).toBe(events.length);
  });
});
