/** Which requests are answered: those of the reader's own browser for the page and its events. */

/** What of a request is looked at. */
export interface AskedFor {
  readonly method: string | undefined;
  /** The target of the request line, as it came. */
  readonly target: string | undefined;
  /** Names and values in turn, as they came: none joined, none dropped. */
  readonly rawHeaders: readonly string[];
}

export type Ruling =
  | { readonly answer: "page" }
  /** `have`: the version of the plan that the page shows already. */
  | { readonly answer: "events"; readonly have: string | undefined }
  | {
      readonly answer: "refused";
      /** RFC 9110: 403 Forbidden, 404 Not Found, 405 Method Not Allowed, 421 Misdirected Request. */
      readonly status: 403 | 404 | 405 | 421;
      readonly says: string;
    };

const PAGE = "/";
const EVENTS = /^\/events(?:\?have=([\w-]{0,100}))?$/;

/**
 * A page elsewhere may have its own name lead to the loopback address and then ask as if it were ours
 * (DNS rebinding); it cannot choose what the browser writes as `Host`. So only the address that we
 * are at is answered, and nothing that says that it comes from another origin.
 *
 * @param port at which we listen
 */
export function ruleOn({ method, target, rawHeaders }: AskedFor, port: number): Ruling {
  const own = port === 80 ? ["127.0.0.1", "127.0.0.1:80"] : [`127.0.0.1:${port}`];
  const hosts = valuesOf(rawHeaders, "host");
  if (hosts.length !== 1 || !own.includes(hosts[0]!)) {
    return refused(421, `This is http://${own.at(-1)} and nothing else.`);
  }
  const origins = valuesOf(rawHeaders, "origin");
  const sites = valuesOf(rawHeaders, "sec-fetch-site");
  const isForeign =
    origins.some((one) => !own.some((host) => one === `http://${host}`)) ||
    sites.some((one) => one !== "same-origin" && one !== "none");
  if (isForeign) return refused(403, "Asked for by another page.");
  if (method !== "GET" && method !== "HEAD") return refused(405, "Only GET and HEAD.");
  if (target === PAGE) return { answer: "page" };
  const events = EVENTS.exec(target ?? "");
  if (!events) return refused(404, "There is only the page.");
  return { answer: "events", have: valuesOf(rawHeaders, "last-event-id").at(-1) ?? events[1] };
}

const refused = (status: 403 | 404 | 405 | 421, says: string): Ruling => ({
  answer: "refused",
  status,
  says,
});

function valuesOf(rawHeaders: readonly string[], name: string): string[] {
  const values: string[] = [];
  for (let i = 0; i + 1 < rawHeaders.length; i += 2) {
    if (rawHeaders[i]!.toLowerCase() === name) values.push(rawHeaders[i + 1]!);
  }
  return values;
}
