import { rolldown } from "rolldown";

/** What is the same for all that is bundled here; the compiler's own settings hold no paths of use. */
const SHARED = { tsconfig: false, transform: { target: "node20" }, logLevel: "warn" };

/** Matches packages and what lies in them. */
export function packages(names) {
  const escaped = names.map((name) => name.replace(/[/.@-]/g, "\\$&"));
  return new RegExp(`^(?:${escaped.join("|")})(?:/|$)`);
}

/** Whatever is not a file of ours. */
export const ALL_PACKAGES = /^[^./]/;

/**
 * Bundles a module with all it needs, as ES modules if nothing else is said.
 *
 * @returns the chunks: file name, code, and the files that went into each
 */
export async function bundle(
  input,
  { write = true, platform = "node", external = [], define = {}, plugins = [], ...output },
) {
  const transform = { ...SHARED.transform, define };
  const bundled = await rolldown({ ...SHARED, transform, input, platform, external, plugins });
  const options = { format: "esm", ...output };
  const made = write ? await bundled.write(options) : await bundled.generate(options);
  await bundled.close();
  return made.output.filter((one) => one.type === "chunk");
}
