import { icalendarText } from "../escape/icalendar.ts";
import type { LoopSchedule } from "../handover/schedule/schedule.ts";
import { WEEKDAYS } from "../model/site-rules.ts";
import { TOOL } from "../version.ts";

/**
 * The weekly timetable as an iCalendar object (RFC 5545): one weekly event for each shift, in
 * floating local time, so that it means the clock on the spot.
 *
 * @param siteName shown in the events; escaped
 * @param firstDay first day of the season, `YYYY-MM-DD`
 */
export function icalendar(
  siteName: string,
  schedules: readonly LoopSchedule[],
  firstDay: string,
): string {
  const lines = ["BEGIN:VCALENDAR", "VERSION:2.0", `PRODID:-//${TOOL}//schedule//EN`];
  for (const { loop, shifts } of schedules) {
    shifts.forEach((shift, index) => {
      const date = firstOn(firstDay, WEEKDAYS.indexOf(shift.day));
      lines.push(
        "BEGIN:VEVENT",
        `UID:${TOOL}-${loop}-${index + 1}-${date}@${TOOL}.invalid`,
        `DTSTAMP:${firstDay.replaceAll("-", "")}T000000Z`,
        `DTSTART:${date}T${clock(shift.fromMin)}`,
        ...(shift.toMin < 1440
          ? [`DTEND:${date}T${clock(shift.toMin)}`]
          : [`DURATION:PT${shift.toMin - shift.fromMin}M`]),
        "RRULE:FREQ=WEEKLY",
        `SUMMARY:${icalendarText(`Mowing, loop ${loop}, ${siteName}`)}`,
        `DESCRIPTION:${icalendarText("Keep children and pets away while the machine works.")}`,
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
      );
    });
  }
  lines.push("END:VCALENDAR");
  return `${lines.map(folded).join("\r\n")}\r\n`;
}

/** First date on or after a day that is the given day of the week (0 is Monday), `YYYYMMDD`. */
function firstOn(firstDay: string, weekday: number): string {
  const [year, month, day] = firstDay.split("-").map(Number);
  const ahead = (weekday + 7 - mondayFirst(year!, month!, day!)) % 7;
  const date = new Date(Date.UTC(year!, month! - 1, day! + ahead));
  return date.toISOString().slice(0, 10).replaceAll("-", "");
}

const mondayFirst = (year: number, month: number, day: number) =>
  (new Date(Date.UTC(year, month - 1, day)).getUTCDay() + 6) % 7;

const clock = (minutes: number) =>
  `${String(Math.floor(minutes / 60)).padStart(2, "0")}${String(minutes % 60).padStart(2, "0")}00`;

/** Lines of at most 75 octets (RFC 5545, 3.1), never cut inside a character. */
function folded(line: string): string {
  const out: string[] = [];
  let part = "";
  let octets = 0;
  for (const character of line) {
    const size = new TextEncoder().encode(character).length;
    if (octets + size > (out.length === 0 ? 75 : 74)) {
      out.push(part);
      [part, octets] = ["", 0];
    }
    part += character;
    octets += size;
  }
  return [...out, part].join("\r\n ");
}
