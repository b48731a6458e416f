import { open, readdir, readFile, realpath, stat } from "node:fs/promises";
import { basename, dirname, extname, join } from "node:path";
import { WORLD_ENDINGS } from "../src/import/raster/world-file.ts";
import { sizeRefusal } from "../src/import/read-inputs.ts";
import type { InputFile } from "../src/model/features.ts";
import { badInput, misuse, Refusal } from "./refusal.ts";

/** Parts of a shapefile that are read together with its `.shp`. */
const PARTS = [".dbf", ".prj", ".cpg", ".shx"];

/** No format's limit is smaller. */
const ALWAYS_READ_BYTES = 100_000_000;
const HEAD_BYTES = 65_536;

/** Reads the inputs; a `.shp` with its parts, whatever the case of their endings. */
export async function openInputs(paths: readonly string[]): Promise<InputFile[]> {
  const main = withoutPartsOf(paths);
  await refuseTwice(main);
  const inputs: InputFile[] = [];
  for (const path of main) inputs.push(await openInput(path));
  return inputs;
}

/** A shell's `garden.*` names every part of a shapefile: those of a `.shp` in the list are not inputs. */
function withoutPartsOf(paths: readonly string[]): string[] {
  const shapes = new Set(paths.filter(isShp).map(stemPath));
  return paths.filter((path) => !PARTS.includes(endingOf(path)) || !shapes.has(stemPath(path)));
}

async function refuseTwice(paths: readonly string[]): Promise<void> {
  const seen = new Set<string>();
  for (const path of paths) {
    const real = await realpath(path).catch(() => path);
    if (seen.has(real)) {
      throw misuse("INPUT_TWICE", "The same input is named twice.", "Name each input once.", path);
    }
    seen.add(real);
  }
}

/** Reads a raster of heights, with the `.prj` beside it. */
export async function openTerrain(path: string): Promise<InputFile> {
  return { name: path, bytes: await readBytes(path), siblings: await readParts(path, [".prj"]) };
}

/** Reads a picture, with the world file and the `.prj` beside it. */
export async function openImage(path: string): Promise<InputFile> {
  const siblings = await readParts(path, [".prj", ...WORLD_ENDINGS]);
  return { name: path, bytes: await readBytes(path), siblings };
}

async function openInput(path: string): Promise<InputFile> {
  const bytes = await readBytes(path);
  return isShp(path)
    ? { name: path, bytes, siblings: await readParts(path) }
    : { name: path, bytes };
}

/** A file too large for its format is refused by its beginning, before it fills the memory. */
async function refuseTooLarge(path: string, sizeBytes: number): Promise<void> {
  if (sizeBytes <= ALWAYS_READ_BYTES) return;
  const file = await open(path);
  try {
    const head = new Uint8Array(HEAD_BYTES);
    await file.read(head, 0, HEAD_BYTES, 0);
    const problem = sizeRefusal({ name: path, bytes: head }, sizeBytes);
    if (problem !== undefined) throw new Refusal(problem);
  } finally {
    await file.close();
  }
}

async function readBytes(path: string): Promise<Uint8Array> {
  try {
    const about = await stat(path);
    if (about.isDirectory()) {
      throw badInput(
        "INPUT_IS_DIRECTORY",
        "The input is a folder, not a file.",
        "Name the files in it that make up the site.",
        path,
      );
    }
    await refuseTooLarge(path, about.size);
    return await readFile(path);
  } catch (error) {
    throw readFault(error, path);
  }
}

function readFault(error: unknown, path: string): unknown {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === "ENOENT" || code === "ENOTDIR") {
    return badInput(
      "INPUT_NOT_FOUND",
      "There is no such file.",
      "Check the name and the folder you are in.",
      path,
    );
  }
  if (code === undefined || (error as NodeJS.ErrnoException).syscall === undefined) return error;
  return badInput(
    "INPUT_NOT_READABLE",
    `The file cannot be read (${code}).`,
    "Check that you may read it and that the disk or network drive answers.",
    path,
  );
}

/** Parts that lie beside a file, by ending. */
async function readParts(path: string, endings = PARTS): Promise<Record<string, Uint8Array>> {
  const dir = dirname(path);
  const stem = stemPath(basename(path));
  const parts: Record<string, Uint8Array> = {};
  for (const name of (await readdir(dir)).sort()) {
    const ending = endingOf(name);
    if (endings.includes(ending) && stemPath(name) === stem && !parts[ending]) {
      parts[ending] = await readBytes(join(dir, name));
    }
  }
  return parts;
}

const endingOf = (path: string) => extname(path).toLowerCase();
const isShp = (path: string) => endingOf(path) === ".shp";
/** Path without its ending, in lower case: parts of one shapefile share it. */
const stemPath = (path: string) => path.slice(0, path.length - extname(path).length).toLowerCase();
