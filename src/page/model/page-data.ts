/** What a page holds beside its scripts: each part is an element of data of that name. */
import type { PageSystem } from "./in-system.ts";
import type { PageModel, PageTotals } from "./page-model.ts";

export interface PageData {
  readonly model: PageModel;
  /** A system in which places are shown beside the site grid and degrees. */
  readonly system?: PageSystem;
  /** A picture to lie beneath the map. */
  readonly picture?: PagePicture;
  /** All that the page needs to plan again; see `src/page/edits`. */
  readonly job?: unknown;
  /** Another plan, to compare with. */
  readonly other?: OtherPlan;
  /** In a page that is served by `pegline open`: which version of the plan it shows. */
  readonly live?: { readonly version: string };
}

/** A plan beside the one that is shown. */
export interface OtherPlan {
  /** Of its file or folder; not fit to be shown. */
  readonly name: string;
  readonly model: SeenPlan;
}

/** What is compared of a plan. A PageModel is one; so is what a plan.geojson tells. */
export interface SeenPlan
  extends Pick<
    PageModel,
    "siteName" | "grid" | "extent" | "loops" | "shapes" | "pegs" | "passages" | "findings" | "walks"
  > {
  readonly totals: Partial<PageTotals>;
  readonly prices?: { readonly total: number; readonly currency: string };
}

/** A georeferenced picture. */
export interface PagePicture {
  readonly name: string;
  /** `data:image/png;base64,…` or the same of a JPEG. */
  readonly url: string;
  /** Maps (u, v), 0 to 1 from its upper left corner, to metres in the site grid: `[a u + c v + e, b u + d v + f]`. */
  readonly toGrid: readonly [number, number, number, number, number, number];
}
