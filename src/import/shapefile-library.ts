/** The shapefile library, loaded when the first one is read: its tables of encodings are large. */
type Library = typeof import("shapefile");

let loading: Promise<Library> | undefined;

export function shapefileLibrary(): Promise<Library> {
  loading ??= import("shapefile");
  return loading;
}
