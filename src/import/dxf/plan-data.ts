/** What a drawing of a plan says of itself, beside its shapes. */
import type { CrsDeclaration } from "../../model/features.ts";

/** Name under which a plan's attributes stand in the extended data of entities (group 1001). */
export const PLAN_APPLICATION = "PEGLINE";

/** Begins the comment (group 999) that names the reference system. */
export const CRS_COMMENT = "pegline-crs:";

/** The reference system that a comment before the first section names, in the program's own drawings. */
export function crsOfComments(head: string): CrsDeclaration {
  const from = "comment in the drawing";
  const [, text] =
    new RegExp(`^\\s*(?:999\\r?\\n[^\\n]*\\n\\s*)*?999\\r?\\n${CRS_COMMENT} ([^\\r\\n]+)`).exec(
      head,
    ) ?? [];
  if (text === undefined) return { kind: "none" };
  const code = /^EPSG:(\d+)$/.exec(text.trim())?.[1];
  return code === undefined
    ? { kind: "definition", text: text.trim(), from }
    : { kind: "epsg", code: Number(code), from };
}

/** Attributes from the pieces of JSON in an entity's extended data; none where it is broken. */
export function attributesOf(pieces: readonly string[]): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(pieces.join(""));
    if (typeof value !== "object" || value === null || Array.isArray(value)) return {};
    return Object.fromEntries(Object.entries(value).filter(([name]) => name !== "__proto__"));
  } catch {
    return {};
  }
}
