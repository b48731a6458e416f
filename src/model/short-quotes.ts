import type { Finding } from "./finding.ts";

/** No quotation in a sentence for people is longer, in letters. */
const QUOTED_MAX = 200;

const LONG_QUOTE = new RegExp(`"([^"]{${QUOTED_MAX}})[^"]+"`, "gu");

/** A finding in whose message names out of an input, however long, take 200 letters at most. */
export function withShortQuotes<T extends Pick<Finding, "message">>(one: T): T {
  const message = one.message.replace(LONG_QUOTE, '"$1…"');
  return message === one.message ? one : { ...one, message };
}
