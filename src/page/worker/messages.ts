/** What window and worker say to each other. Values that cross as they are. */
import type { InspectedInput } from "../../jobs/inspection.ts";
import type { InputFile } from "../../model/features.ts";
import type { Problem } from "../../model/finding.ts";
import type { PartsChoice } from "../../model/plan.ts";
import type { Role } from "../../model/roles.ts";
import type { Edit } from "../edits/edit.ts";
import type { PageFinding, PageModel } from "../model/page-model.ts";
import type { PackedSource } from "./source.ts";

export type ToWorker =
  /** First of all: what to plan from. The site is planned once, unchanged. */
  | { readonly type: "open"; readonly source: PackedSource }
  /** Plan with these edits; a later one makes all earlier ones needless. */
  | { readonly type: "replan"; readonly id: number; readonly edits: readonly Edit[] }
  /** The files of a plan with these edits. */
  | { readonly type: "files"; readonly id: number; readonly edits: readonly Edit[] }
  | InspectFiles
  | ImportFiles;

/** What a layer is to be taken for. */
export interface LayerRole {
  readonly layer: string;
  readonly role: Role;
}

/** Say what is in files; nothing need have been opened. */
export interface InspectFiles {
  readonly type: "inspect";
  readonly id: number;
  readonly files: readonly InputFile[];
  /** For reference systems that it knows. */
  readonly source: PackedSource | undefined;
}

/** Plan a site with more files, or another one; what was opened stays as it is. */
export interface ImportFiles {
  readonly type: "import";
  readonly id: number;
  readonly how: "add" | "replace";
  readonly files: readonly InputFile[];
  readonly roles: readonly LayerRole[];
  readonly source: PackedSource | undefined;
  /** Name of the machine's profile. */
  readonly machine: string;
}

export type FromWorker =
  | {
      readonly type: "inspected";
      readonly id: number;
      readonly inputs: readonly InspectedInput[];
      readonly extentM: readonly [number, number] | null;
      readonly findings: readonly PageFinding[];
    }
  | {
      readonly type: "imported";
      readonly id: number;
      readonly model: PageModel;
      readonly source: PackedSource;
    }
  /** It is at work on this one now. */
  | { readonly type: "begun"; readonly id: number }
  /** `id` 0: the site as it was opened. */
  | {
      readonly type: "planned";
      readonly id: number;
      readonly model: PageModel;
      readonly siteFile: string;
      /** What the site file says of parts; undefined where it says nothing. */
      readonly parts?: PartsChoice | undefined;
    }
  | {
      readonly type: "files";
      readonly id: number;
      readonly model: PageModel;
      readonly siteFile: string;
      readonly files: readonly { readonly name: string; readonly text: string }[];
    }
  | { readonly type: "problem"; readonly id: number; readonly problem: Problem }
  /** Needless, since a later one came before it was begun. */
  | { readonly type: "dropped"; readonly id: number }
  /** A fault of ours; the worker goes on. */
  | { readonly type: "fault"; readonly id: number; readonly message: string };
