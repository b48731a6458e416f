// Writes the JSON Schema of the machine profile from the schema that the reader checks against.
import { mkdir, writeFile } from "node:fs/promises";
import { loadSource } from "./load-source.mjs";

const { profileJsonSchema } = await loadSource("src/profile/profile-file.ts");
await mkdir("docs/schema", { recursive: true });
await writeFile(
  "docs/schema/profile.schema.json",
  `${JSON.stringify(profileJsonSchema(), null, 2)}\n`,
);
