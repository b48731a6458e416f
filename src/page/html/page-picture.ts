import { shownText } from "../../escape/hidden.ts";
import { encodeBase64 } from "../../export/base64.ts";
import type { SitePicture } from "../../export/sheet/sheets.ts";
import type { PagePicture } from "../model/page-data.ts";

/** A placed picture as the page holds it. */
export function pagePictureOf({ name, format, bytes, toGrid }: SitePicture): PagePicture {
  return {
    name: shownText(name),
    url: `data:image/${format};base64,${encodeBase64(bytes)}`,
    toGrid,
  };
}
