/**
 * Loads modules of the bundled command line with code that was compiled when it was built.
 *
 * V8 compiles a function when it is first called. Of a short run that is a quarter. What a run at
 * build time compiled lies beside the bundle, for one version of V8; it holds bytecode, nothing of the
 * machine. Where there is none for this version, or V8 turns it down (other flags), the modules are
 * compiled as usual: the same code runs, a little later.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, relative } from "node:path";
import { Script } from "node:vm";

/** CommonJS modules as the bundler writes them: what they are given, what they leave in `exports`. */
interface LoadedModule {
  exports: unknown;
}
type ModuleFunction = (
  exports: unknown,
  require: (id: string) => unknown,
  module: LoadedModule,
  filename: string,
  folder: string,
) => void;

/** Called with each module and its script as it was compiled, e.g. to keep the code. */
export type OnCompiled = (codePath: string, script: Script) => void;

/** Folder of the compiled code for this version of V8, in that of the bundle. */
export function codeFolder(bundleFolder: string): string {
  return join(bundleFolder, "code", `v8-${process.versions.v8}-${process.arch}`);
}

/**
 * Runs a module of the bundle and what it requires, once each.
 *
 * @param bundleFolder folder of the bundle; modules in it are loaded here, all others by Node
 * @param name file name of the module in that folder
 */
export function runBundled(bundleFolder: string, name: string, onCompiled?: OnCompiled): unknown {
  const modules = new Map<string, LoadedModule>();
  const folderOfCode = codeFolder(bundleFolder);
  const others = createRequire(join(bundleFolder, name));
  const load = (path: string): unknown => {
    const known = modules.get(path);
    if (known) return known.exports;
    const module: LoadedModule = { exports: {} };
    modules.set(path, module);
    const codePath = join(
      folderOfCode,
      `${relative(bundleFolder, path).replace(/[\\/]/g, "-")}.bin`,
    );
    const folder = dirname(path);
    const script = compiled(path, codeIn(codePath));
    onCompiled?.(codePath, script);
    const require = (id: string) => (id.startsWith(".") ? load(join(folder, id)) : others(id));
    const run = script.runInThisContext() as ModuleFunction;
    run(module.exports, require, module, path, folder);
    return module.exports;
  };
  return load(join(bundleFolder, name));
}

function codeIn(path: string): Buffer | undefined {
  try {
    return readFileSync(path);
  } catch {
    return undefined;
  }
}

/** On one line with the module's first one, so that lines keep their numbers. */
const [HEAD, FOOT] = ["(function (exports, require, module, __filename, __dirname) { ", "\n})"];

function compiled(filename: string, cachedData: Buffer | undefined): Script {
  const source = HEAD + readFileSync(filename, "utf8").replace(/^#!.*/, "") + FOOT;
  return new Script(source, { filename, ...(cachedData && { cachedData }) });
}
