/** Clock time at an instant, from a zone that the user names; nothing comes from the machine's clock. */

/** Minutes by which the clock is ahead of UTC at an instant (milliseconds since 1970). */
export type ClockOffset = (timeMs: number) => number;

/**
 * @param zone an IANA name, `UTC`, or a fixed offset `+HH:MM`
 * @returns undefined where the zone is not known
 */
export function clockOf(zone: string): ClockOffset | undefined {
  const fixed = /^(?:UTC)?([+-])(\d{1,2})(?::?(\d{2}))?$/.exec(zone);
  if (fixed) {
    const minutes = 60 * Number(fixed[2]) + Number(fixed[3] ?? 0);
    if (minutes > 14 * 60) return undefined;
    return () => (fixed[1] === "-" ? -minutes : minutes);
  }
  try {
    const format = new Intl.DateTimeFormat("en-US", {
      timeZone: zone,
      hourCycle: "h23",
      year: "numeric",
      month: "numeric",
      day: "numeric",
      hour: "numeric",
      minute: "numeric",
      second: "numeric",
    });
    return (timeMs) => {
      const at = Object.fromEntries(
        format.formatToParts(timeMs).map(({ type, value }) => [type, Number(value)]),
      );
      const clockMs = Date.UTC(at.year!, at.month! - 1, at.day, at.hour, at.minute, at.second);
      return Math.round((clockMs - timeMs) / 60_000);
    };
  } catch {
    return undefined;
  }
}

/** The sun's own mean time at a longitude: at 12:00 the sun is about highest. */
export function solarClock(lonDeg: number): ClockOffset {
  return () => 4 * lonDeg;
}
