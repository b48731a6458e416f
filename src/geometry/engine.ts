/**
 * The one door to the overlay and offset engine: Clipper2 compiled to WebAssembly.
 *
 * The engine rounds to a binary grid; ten-thousandths of a millimetre of the set-in do not matter
 * but validity does, so everything goes through one precision. Loading is asynchronous (the
 * WebAssembly must be compiled), everything after it is a plain function call.
 */

import type { MainModule, PathsD } from "clipper2-wasm/dist/es/clipper2z.js";
import createClipper from "clipper2-wasm/dist/es/clipper2z.js";
import type { RingM } from "../model/geometry.ts";

/** Decimals of a metre that the engine keeps: 0.01 mm. */
export const ENGINE_DECIMALS = 5;

let loaded: MainModule | undefined;
let loading: Promise<MainModule> | undefined;

/**
 * Makes the geometry engine ready; call once and await it before any other geometry.
 *
 * @param wasmBinary the engine's WebAssembly, where it cannot be found beside the code (a web page)
 */
export async function loadEngine(wasmBinary?: Uint8Array): Promise<void> {
  loading ??= createClipper(wasmBinary ? { wasmBinary, locateFile } : {}) as Promise<MainModule>;
  loaded = await loading;
}

/** Given in bytes it is looked for nowhere, but its glue code asks all the same. */
const locateFile = (name: string) => name;

/** The engine. Throws when `loadEngine` has not been awaited: a fault of the caller. */
export function engine(): MainModule {
  if (!loaded) throw new Error("geometry engine used before loadEngine() was awaited");
  return loaded;
}

/** Copies flat rings into the engine. The caller deletes the result. */
export function toPaths(rings: readonly RingM[]): PathsD {
  const module = engine();
  const paths = new module.PathsD();
  // One path is filled again for each ring: the engine keeps copies, and handles cost more than rings.
  const path = new module.PathD();
  for (const ring of rings) {
    const count = ring.length >> 1;
    const spaced = new Float64Array(3 * count);
    for (let i = 0; i < count; i++) {
      spaced[3 * i] = ring[2 * i]!;
      spaced[3 * i + 1] = ring[2 * i + 1]!;
    }
    path.assign(spaced);
    paths.push_back(path);
  }
  path.delete();
  return paths;
}

function flatOf(spaced: Float64Array): RingM {
  const count = spaced.length / 3;
  const ring = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    ring[2 * i] = spaced[3 * i]!;
    ring[2 * i + 1] = spaced[3 * i + 1]!;
  }
  return ring;
}

/** Copies paths out of the engine as flat rings and frees them. */
export function takeRings(paths: PathsD): RingM[] {
  const rings: RingM[] = [];
  const count = paths.size();
  for (let i = 0; i < count; i++) {
    const path = paths.get(i);
    if (path.size() > 2) rings.push(flatOf(path.view()));
    path.delete();
  }
  paths.delete();
  return rings;
}
