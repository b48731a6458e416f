/** The package ships its types beside another path than its module. */
declare module "clipper2-wasm/dist/es/clipper2z.js" {
  import type { MainModule } from "clipper2-wasm/dist/clipper2z.js";

  export type { MainModule, PathsD, PolyPathD } from "clipper2-wasm/dist/clipper2z.js";

  const create: (options?: {
    wasmBinary?: Uint8Array;
    locateFile?: (name: string) => string;
  }) => Promise<MainModule>;
  export default create;
}
