// Writes the JSON Schemas of the files that people write from the schemas that the readers check.
import { mkdir, writeFile } from "node:fs/promises";
import { loadSource } from "./load-source.mjs";

const { profileJsonSchema } = await loadSource("src/profile/profile-file.ts");
const { siteJsonSchema } = await loadSource("src/sitefile/site-file.ts");
await mkdir("docs/schema", { recursive: true });
const write = (name, schema) =>
  writeFile(`docs/schema/${name}.schema.json`, `${JSON.stringify(schema, null, 2)}\n`);
await write("profile", profileJsonSchema());
await write("site", siteJsonSchema());
