import { copyFile, mkdir, readFile, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { networkInterfaces } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type AskedFor, ruleOn } from "../../cli/open/request-gate.ts";
import { stateOf, watchFiles } from "../../cli/open/watch-files.ts";
import { demo, emptyFolder, pegline } from "./run.ts";
import { type Answered, ask, serve } from "./served.ts";

const GARDEN = "house-garden.geojson";

async function gardenFolder(): Promise<string> {
  const cwd = await emptyFolder();
  await copyFile(demo(GARDEN), join(cwd, GARDEN));
  return cwd;
}

const header = ({ head }: Answered, name: string) =>
  new RegExp(`^${name}: (.*?)\\r?$`, "im").exec(head)?.[1];

describe("which requests are answered", () => {
  const own = ["Host", "127.0.0.1:8123"];
  const get = (target: string, ...rawHeaders: string[]): AskedFor => ({
    method: "GET",
    target,
    rawHeaders,
  });
  const statusOf = (asked: AskedFor, port = 8123) => {
    const ruling = ruleOn(asked, port);
    return ruling.answer === "refused" ? ruling.status : ruling.answer;
  };

  // What a page with a name of its own that leads to 127.0.0.1 sends is its own name (RFC 9112,
  // section 3.2); a second Host is a sign of smuggling (section 11.2).
  it.each([
    ["a name that leads here", ["Host", "evil.example:8123"]],
    ["localhost, which a resolver may lead elsewhere", ["Host", "localhost:8123"]],
    ["another port", ["Host", "127.0.0.1:8124"]],
    ["no port", ["Host", "127.0.0.1"]],
    ["the IPv6 loopback, where nobody listens", ["Host", "[::1]:8123"]],
    ["a number that means the same address", ["Host", "2130706433:8123"]],
    ["none", []],
    ["two", [...own, "host", "evil.example"]],
    ["two of ours", [...own, ...own]],
    ["ours and more", ["Host", "127.0.0.1:8123.evil.example"]],
  ])("Host: %s is refused", (_, headers) => {
    expect(statusOf(get("/", ...headers))).toBe(421);
  });

  it("port 80 may be left out, as browsers do (RFC 9110, section 4.2.1)", () => {
    expect(statusOf(get("/", "Host", "127.0.0.1"), 80)).toBe("page");
    expect(statusOf(get("/", "Host", "127.0.0.1:80"), 80)).toBe("page");
  });

  it.each([
    ["Origin", "http://evil.example"],
    ["Origin", "null"],
    ["Origin", "https://127.0.0.1:8123"],
    ["Origin", "http://127.0.0.1:9999"],
    ["Sec-Fetch-Site", "cross-site"],
    ["Sec-Fetch-Site", "same-site"],
  ])("%s: %s is refused", (name, value) => {
    expect(statusOf(get("/events", ...own, name, value))).toBe(403);
    expect(statusOf(get("/", ...own, name, value))).toBe(403);
  });

  it("the page's own requests, and those of the address bar, are answered", () => {
    expect(statusOf(get("/", ...own, "Sec-Fetch-Site", "none"))).toBe("page");
    const mine = [...own, "Origin", "http://127.0.0.1:8123", "Sec-Fetch-Site", "same-origin"];
    expect(statusOf(get("/events", ...mine))).toBe("events");
    expect(ruleOn(get("/events?have=a-B_9", ...own), 8123)).toMatchObject({ have: "a-B_9" });
    const again = get("/events?have=a", ...own, "Last-Event-ID", "b");
    expect(ruleOn(again, 8123)).toMatchObject({ have: "b" });
  });

  it.each(["POST", "PUT", "DELETE", "OPTIONS", "TRACE", "get", "PROPFIND"])(
    "%s is refused",
    (method) => {
      expect(statusOf({ ...get("/", ...own), method })).toBe(405);
    },
  );

  it.each([
    "/index.html",
    "/plan.html",
    "/../../etc/passwd",
    "/%2e%2e/etc/passwd",
    "//",
    "/?x",
    "/events?have=a&b",
    "/events/",
    "http://127.0.0.1:8123/",
    "*",
  ])("there is nothing at %s", (target) => {
    expect(statusOf(get(target, ...own))).toBe(404);
  });
});

describe("files that are watched", () => {
  const until = async (is: () => boolean) => {
    for (let i = 0; i < 200 && !is(); i++) await new Promise((done) => setTimeout(done, 10));
  };

  it("a change is told once, also of a file put in another's place, gone, or new", async () => {
    const cwd = await emptyFolder();
    const [a, b] = [join(cwd, "a"), join(cwd, "b")];
    await writeFile(a, "one");
    let told = 0;
    const watch = watchFiles(() => told++, 10);
    watch.watch([a, b], await stateOf([a, b]));
    await new Promise((done) => setTimeout(done, 100));
    expect(told).toBe(0);
    await writeFile(b, "new");
    await until(() => told === 1);
    await writeFile(a, "more than one");
    await until(() => told === 2);
    await new Promise((done) => setTimeout(done, 100));
    expect(told).toBe(2);
    watch.end();
  });

  it("a change between reading and watching is not missed", async () => {
    const cwd = await emptyFolder();
    const a = join(cwd, "a");
    await writeFile(a, "one");
    const state = await stateOf([a]);
    await writeFile(a, "two, meanwhile");
    let told = 0;
    const watch = watchFiles(() => told++, 10);
    watch.watch([a], state);
    await until(() => told === 1);
    watch.end();
    expect(told).toBe(1);
  });
});

async function refusesSecond(port: number, cwd: string): Promise<void> {
  const second = await pegline(["open", GARDEN, "--port", String(port), "--json"], { cwd });
  expect([second.code, second.json().error.code]).toEqual([2, "PORT_NOT_FREE"]);
}

/** Where we do not listen somebody else can have the port. */
async function isFreeElsewhere(port: number): Promise<void> {
  const others = Object.values(networkInterfaces())
    .flat()
    .filter((one) => one && !one.internal && one.family === "IPv4");
  for (const one of others) {
    const server = createServer();
    await new Promise<void>((done, fail) => {
      server.once("error", fail);
      server.listen(port, one!.address, done);
    });
    server.close();
  }
}

describe("pegline open", () => {
  it("serves the page of a site with its headers, to its own address alone, and stops with Ctrl-C", async () => {
    const cwd = await gardenFolder();
    const { port, address, said, stop } = await serve([GARDEN], cwd);
    expect(address).toBe(`http://127.0.0.1:${port}/`);
    expect(said).toMatchObject({ tool: "pegline", shows: "inputs", files: [GARDEN] });
    const own = `Host: 127.0.0.1:${port}`;
    const page = await ask(port, ["GET / HTTP/1.1", own, "Connection: close"]);
    expect(page.status).toBe(200);
    expect(page.body).toContain("house-garden: boundary wire");
    // It holds what it was planned from, so that it can be changed there.
    expect(page.body).toContain('id="pegline-job"');
    const policy = header(page, "Content-Security-Policy")!;
    for (const part of ["default-src 'none'", "connect-src 'self'", "frame-ancestors 'none'"]) {
      expect(policy).toContain(part);
    }
    expect(policy).not.toMatch(/unsafe-inline|'unsafe-eval'|\*|http:/);
    expect(header(page, "X-Content-Type-Options")).toBe("nosniff");
    expect(header(page, "Cache-Control")).toBe("no-store");
    expect(header(page, "Access-Control-Allow-Origin")).toBeUndefined();
    const head = await ask(port, ["HEAD / HTTP/1.1", own, "Connection: close"]);
    expect([head.status, head.body]).toEqual([200, ""]);
    const elsewhere = ["GET / HTTP/1.1", "Host: evil.example", "Connection: close"];
    const refused = await ask(port, elsewhere);
    expect(refused.status).toBe(421);
    expect(refused.body).not.toContain("garden");
    expect((await ask(port, ["GET / HTTP/1.0", "Connection: close"])).status).toBe(421);
    expect((await ask(port, ["POST / HTTP/1.1", own, "Content-Length: 0"])).status).toBe(405);
    expect((await ask(port, ["GET /../package.json HTTP/1.1", own])).status).toBe(404);
    await refusesSecond(port, cwd);
    await isFreeElsewhere(port);
    // An open stream does not keep it from ending.
    const events = ask(port, ["GET /events?have=none HTTP/1.1", own]);
    await new Promise((done) => setTimeout(done, 200));
    expect(await stop("SIGINT")).toBe(130);
    const told = await events;
    expect(told.head).toContain("text/event-stream");
    expect(told.body).toMatch(/event: plan\nid: [\w-]+\ndata: \{"model"/);
  });

  it("plans again when a file changes; keeps the last good plan where that fails, and says why", async () => {
    const cwd = await gardenFolder();
    const { port, errors, said } = await serve([GARDEN], cwd);
    expect(said.shows).toBe("inputs");
    const listen = (until: RegExp) =>
      ask(port, ["GET /events HTTP/1.1", `Host: 127.0.0.1:${port}`], (text) => until.test(text));
    const good = await readFile(join(cwd, GARDEN), "utf8");
    const trouble = listen(/event: trouble\ndata: .*\n\n/);
    await new Promise((done) => setTimeout(done, 200));
    await writeFile(join(cwd, GARDEN), good.slice(0, 500));
    const told = await trouble;
    expect(told.body).toContain('"code":"JSON_BROKEN"');
    expect(errors()).toContain("JSON_BROKEN");
    // Who comes now gets the last good plan, and what is wrong.
    const later = await listen(/event: trouble\ndata: .*\n\n/);
    expect(later.body).toMatch(/event: plan[\s\S]*event: trouble/);
    // A site without its beds is mended by itself.
    const bare = JSON.parse(good);
    bare.features = bare.features.filter((one: { properties: { role?: string } }) =>
      ["lawn", undefined].includes(one.properties.role),
    );
    const planned = listen(/event: plan[\s\S]*event: plan\nid: \S+\ndata: .*\n\n/);
    await new Promise((done) => setTimeout(done, 200));
    await writeFile(join(cwd, GARDEN), JSON.stringify(bare));
    const plans = [...(await planned).body.matchAll(/"totals":\{"wireM":([\d.]+)/g)];
    expect(Number(plans[1]![1])).toBeLessThan(Number(plans[0]![1]));
  });

  it("shows the plan in a folder of results, two of them, and refuses what is none", async () => {
    const cwd = await gardenFolder();
    for (const [out, profile] of [
      ["a", "medium"],
      ["b", "small"],
    ] as const) {
      await pegline(["plan", GARDEN, "--out", out, "--profile", profile], { cwd });
    }
    const { port, said, stop } = await serve(["a", "b/plan.geojson"], cwd);
    expect(said).toMatchObject({ shows: "plans", files: ["a/plan.html", "b/plan.html"] });
    const page = await ask(port, [
      "GET / HTTP/1.1",
      `Host: 127.0.0.1:${port}`,
      "Connection: close",
    ]);
    const data = (name: string) =>
      JSON.parse(
        new RegExp(`id="pegline-${name}">([^<]*)<`).exec(
          page.body.replaceAll(/\r\n[0-9a-f]+\r\n/g, ""),
        )![1]!,
      );
    expect(data("model").machine.name).toBe("medium");
    expect(data("other").model.machine.name).toBe("small");
    expect(data("other").name).toBe("b");
    expect(await stop("SIGTERM")).toBe(143);
    const codeOf = async (...args: string[]) => {
      const ran = await pegline(["open", ...args, "--json"], { cwd });
      return [ran.code, ran.json().error.code];
    };
    await mkdir(join(cwd, "empty"));
    expect(await codeOf("empty")).toEqual([2, "PLAN_WITHOUT_PAGE"]);
    expect(await codeOf("a", GARDEN)).toEqual([2, "OPEN_MIXED"]);
    expect(await codeOf("a", "--profile", "small")).toEqual([2, "OPEN_OPTION_IDLE"]);
    await writeFile(join(cwd, "some.html"), "<p>nothing</p>");
    expect(await codeOf("some.html")).toEqual([3, "PAGE_UNREADABLE"]);
    const old = (await readFile(join(cwd, "a/plan.html"), "utf8")).replace(
      /("version":")[^"]*/,
      "$10.0.9",
    );
    await writeFile(join(cwd, "old.html"), old);
    expect(await codeOf("old.html")).toEqual([3, "PAGE_OF_OTHER_VERSION"]);
    expect(await codeOf("--port", "0", GARDEN)).toEqual([2, "PORT_OPTION_INVALID"]);
    expect(await codeOf("nowhere.kml")).toEqual([3, "INPUT_NOT_FOUND"]);
    expect(await codeOf()).toEqual([2, "INPUT_MISSING"]);
  });
});
