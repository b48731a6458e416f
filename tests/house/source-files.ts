import { readdir, readFile } from "node:fs/promises";
import { join, posix, relative, sep } from "node:path";

export interface SourceFile {
  /** From the project's root, with forward slashes. */
  readonly path: string;
  readonly text: string;
  /** Module specifiers of all imports and re-exports, static and dynamic. */
  readonly imports: readonly string[];
}

const IMPORT = /\b(?:from|import)\s*\(?\s*["']([^"'\s]+)["']/g;

/** All TypeScript files under a folder. */
export async function sourceFiles(folder: string): Promise<SourceFile[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries
    .filter(
      (entry) => entry.isFile() && entry.name.endsWith(".ts") && !entry.name.endsWith(".d.ts"),
    )
    .map((entry) => relative(".", join(entry.parentPath, entry.name)).split(sep).join("/"))
    .sort();
  return Promise.all(
    paths.map(async (path) => {
      const text = await readFile(path, "utf8");
      return { path, text, imports: importsOf(text) };
    }),
  );
}

export function importsOf(text: string): string[] {
  return [...text.matchAll(IMPORT)].map((match) => match[1]!);
}

/** Where a relative import leads, from the project's root. */
export function target(file: SourceFile, specifier: string): string {
  return posix.normalize(posix.join(posix.dirname(file.path), specifier));
}

/** Code without comments, so that prose may say `process`. */
export function codeOf(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/(^|[^:"'`])\/\/.*$/gm, "$1");
}
