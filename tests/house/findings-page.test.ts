import { describe, expect, it } from "vitest";
import { codesIn, codesInDocs, codesInSource } from "./codes.ts";

describe("docs/findings.md", () => {
  it("is compared with the codes in the source (the test itself can fail)", () => {
    expect(codesIn('note({ code: "RING_SPIKE" }); const x = { code: "DROP" };')).toEqual([
      "RING_SPIKE",
      "DROP",
    ]);
  });

  it("has an entry for every code, one each, and none for codes that are gone", async () => {
    const described = await codesInDocs();
    expect(described).toEqual(await codesInSource());
  });
});
