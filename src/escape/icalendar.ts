/** Text for a TEXT value of iCalendar (RFC 5545, section 3.3.11); controls have no place in it. */
export function icalendarText(text: string): string {
  return text
    .replaceAll("\\", "\\\\")
    .replaceAll(";", "\\;")
    .replaceAll(",", "\\,")
    .replace(/\r\n|\r|\n/g, "\\n")
    .replace(/[\p{Cc}\u2028\u2029]/gu, " ");
}
