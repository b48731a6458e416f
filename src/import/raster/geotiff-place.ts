/** Where a GeoTIFF (OGC 19-008r4) says that it lies. */
import type { GeoTIFFImage } from "geotiff";
import type { CrsDeclaration, InputFile } from "../../model/features.ts";
import type { CellFrame } from "../../model/raster.ts";

/** What the values of a user-defined key mean: not one of the register. */
const USER_DEFINED = 32_767;

/** Transformation matrix, or tie point and scale; half a cell back where the point is the middle. */
export async function frameOf(image: GeoTIFFImage): Promise<CellFrame | undefined> {
  const tags = image.fileDirectory;
  const list = async (tag: "ModelTransformation" | "ModelTiepoint" | "ModelPixelScale") =>
    tags.hasTag(tag) ? Array.from((await tags.loadValue(tag)) as ArrayLike<number>) : undefined;
  const matrix = await list("ModelTransformation");
  const tie = await list("ModelTiepoint");
  const scale = await list("ModelPixelScale");
  let frame: CellFrame | undefined;
  if (matrix !== undefined && matrix.length >= 8) {
    const [xPerColumn, xPerRow, , x0, yPerColumn, yPerRow, , y0] = matrix as number[];
    frame = {
      x0: x0!,
      y0: y0!,
      xPerColumn: xPerColumn!,
      yPerColumn: yPerColumn!,
      xPerRow: xPerRow!,
      yPerRow: yPerRow!,
    };
  } else if (tie !== undefined && tie.length === 6 && scale !== undefined && scale.length >= 2) {
    const [i, j, , x, y] = tie as [number, number, number, number, number];
    const [dx, dy] = scale as [number, number];
    frame = {
      x0: x - i * dx,
      y0: y + j * dy,
      xPerColumn: dx,
      yPerColumn: 0,
      xPerRow: 0,
      yPerRow: -dy,
    };
  }
  if (frame === undefined) return undefined;
  const area = frame.xPerColumn * frame.yPerRow - frame.xPerRow * frame.yPerColumn;
  if (!Number.isFinite(area) || area === 0) return undefined;
  if (Number(image.getGeoKeys()?.GTRasterTypeGeoKey) !== 2) return frame;
  return {
    ...frame,
    x0: frame.x0 - (frame.xPerColumn + frame.xPerRow) / 2,
    y0: frame.y0 - (frame.yPerColumn + frame.yPerRow) / 2,
  };
}

export function crsOf(
  { siblings }: InputFile,
  keys: Readonly<Record<string, unknown>>,
): CrsDeclaration {
  for (const key of ["ProjectedCSTypeGeoKey", "GeographicTypeGeoKey"]) {
    const code = Number(keys[key]);
    if (Number.isInteger(code) && code > 1023 && code < USER_DEFINED) {
      return { kind: "epsg", code, from: "the GeoTIFF" };
    }
    // A projection of its own must not fall back to the degrees that it is made on.
    if (code === USER_DEFINED) break;
  }
  const prj = siblings?.[".prj"];
  if (prj === undefined) return { kind: "none" };
  return { kind: "definition", text: new TextDecoder().decode(prj), from: ".prj" };
}
