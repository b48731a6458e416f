/** What can be changed in the page: plain values that cross from window to worker and can be undone. */
import type { PointM } from "../../model/geometry.ts";
import type { PartsChoice } from "../../model/plan.ts";
import type { EdgeKind, Role } from "../../model/roles.ts";
import type { DrawnRole } from "../../model/site-rules.ts";
import type { ProfileName } from "../../profile/names.ts";

/** Rings of one polygon, shell first, metres in the site grid; the first point is not repeated. */
export type RingsM = readonly (readonly PointM[])[];

/** What an edit is about. */
export type Target =
  /** A feature of the inputs. */
  | {
      readonly in: "feature";
      readonly file: string;
      readonly layer: string;
      readonly number: number;
    }
  /** An entry of the site file's list of this name, counted from 1. */
  | { readonly in: "things" | "run_ground" | "edges"; readonly number: number }
  /** A hole in a lawn, which is no feature: its areas as they are. */
  | { readonly in: "hole"; readonly areas: readonly RingsM[] };

/** Attributes by the names of docs/roles.md; null takes back what the site file says. */
export type SetValues = Readonly<Record<string, string | number | null>>;

/** A place with a name of its own. */
export interface EditSpot {
  readonly name?: string;
  readonly atM: PointM;
}

export type Shape =
  | { readonly form: "area"; readonly areas: readonly RingsM[] }
  | { readonly form: "line"; readonly line: readonly PointM[] }
  | { readonly form: "point"; readonly atM: PointM };

export type Edit =
  /** All stations, or outlets, that are given from now on. */
  | { readonly edit: "stations" | "outlets"; readonly spots: readonly EditSpot[] }
  | {
      readonly edit: "set";
      readonly of: Target;
      readonly role?: Role;
      readonly set?: SetValues;
    }
  /** On from where it is. */
  | { readonly edit: "move"; readonly of: Target; readonly byM: PointM }
  /** `role`: what it is, where its new shape would be read otherwise. */
  | { readonly edit: "redraw"; readonly of: Target; readonly shape: Shape; readonly role?: Role }
  | { readonly edit: "remove"; readonly of: Target }
  | {
      readonly edit: "draw";
      readonly role: DrawnRole;
      readonly name?: string;
      readonly shape: Shape;
      readonly set?: SetValues;
    }
  /** A stretch of the lawn's edge. */
  | {
      readonly edit: "edge";
      readonly line: readonly PointM[];
      readonly kind: EdgeKind;
      readonly setinM?: number;
    }
  /** Set-in of an edge kind, a role, or all things of a name; null takes it back. */
  | {
      readonly edit: "setin";
      readonly by: "edges" | "roles" | "things";
      readonly name: string;
      readonly setinM: number | null;
    }
  | { readonly edit: "profile"; readonly name: ProfileName }
  /** One value of the machine profile, by its keys; null takes it back. */
  | {
      readonly edit: "profile-value";
      readonly path: readonly string[];
      readonly value: number | boolean | null;
    }
  /** Ground for runs of wire: none may lie there, or at a cost. */
  | {
      readonly edit: "run-ground";
      readonly area: readonly PointM[];
      readonly name?: string;
      readonly wire?: "no";
      readonly runCost?: number;
      readonly slopePercent?: number;
    }
  | { readonly edit: "parts"; readonly parts: PartsChoice | null };
