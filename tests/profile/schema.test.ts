import { readFile } from "node:fs/promises";
import { expect, it } from "vitest";
import { profileJsonSchema } from "../../src/profile/profile-file.ts";

it("docs/schema/profile.schema.json is current (npm run schema)", async () => {
  const published = JSON.parse(await readFile("docs/schema/profile.schema.json", "utf8"));
  expect(published).toEqual(profileJsonSchema());
});
