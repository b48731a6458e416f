/** Words of a page that is served, in English and in German: same keys, same placeholders. */
export const LIVE_EN = {
  "live.trouble": "The files have changed, and cannot be planned. Shown is the last good plan.",
  "live.ended": "`pegline open` has ended: this page follows the files no longer.",
  "live.renewed": "The files have changed: shown anew.",
  "live.newer": "The files have changed on disk. Taking them puts away what you changed here.",
  "live.take": "Take the files",
} as const;

export const LIVE_DE: Readonly<Record<keyof typeof LIVE_EN, string>> = {
  "live.trouble":
    "Die Dateien haben sich geändert und lassen sich nicht planen. Gezeigt wird der letzte gute Plan.",
  "live.ended": "`pegline open` ist beendet: Diese Seite folgt den Dateien nicht mehr.",
  "live.renewed": "Die Dateien haben sich geändert: neu gezeigt.",
  "live.newer":
    "Die Dateien auf der Platte haben sich geändert. Wer sie nimmt, legt weg, was er hier geändert hat.",
  "live.take": "Dateien nehmen",
};
