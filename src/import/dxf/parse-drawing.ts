import type { Group } from "./raw-entity.ts";

/** x, y and, where it is given, z, as the parser has them. */
export interface Xyz {
  readonly x: number;
  readonly y: number;
  readonly z?: number;
}

/** An entity as the parser returns it, or as raw groups where `groups` is there. */
export interface Entity {
  readonly type: string;
  readonly layer?: string;
  readonly handle?: string | number;
  readonly inPaperSpace?: boolean;
  readonly groups?: readonly Group[];
  readonly vertices?: readonly (Xyz & { bulge?: number; splineControlPoint?: boolean })[];
  readonly shape?: boolean;
  readonly is3dPolyline?: boolean;
  readonly is3dPolygonMesh?: boolean;
  readonly isPolyfaceMesh?: boolean;
  readonly center?: Xyz;
  readonly radius?: number;
  readonly startAngle?: number;
  readonly endAngle?: number;
  readonly extrusionDirection?: Xyz;
  readonly extrusionDirectionX?: number;
  readonly extrusionDirectionY?: number;
  readonly extrusionDirectionZ?: number;
  readonly points?: readonly Xyz[];
  readonly position?: Xyz;
  readonly name?: string;
  readonly xScale?: number;
  readonly yScale?: number;
  readonly zScale?: number;
  readonly rotation?: number;
  readonly columnCount?: number;
  readonly rowCount?: number;
  readonly columnSpacing?: number;
  readonly rowSpacing?: number;
}

export interface Block {
  readonly name?: string;
  readonly position?: Xyz;
  readonly entities?: readonly Entity[];
}

/** A drawing as parsed: what of it is used here. */
export interface Drawing {
  readonly header?: Readonly<Record<string, unknown>>;
  readonly tables?: {
    readonly layer?: {
      readonly layers?: Readonly<Record<string, { visible?: boolean; frozen?: boolean }>>;
    };
  };
  readonly blocks?: Readonly<Record<string, Block>>;
  readonly entities?: readonly Entity[];
}

/** Where the parser stands; it hands out one group after the other. */
interface Scanner {
  next(): { code: number; value: string | number };
  isEOF(): boolean;
}

/** Entities of which the parser drops something that is needed: their groups are read by us. */
const AS_GROUPS = ["LWPOLYLINE", "HATCH", "CIRCLE", "ELLIPSE", "SPLINE"];

function rawHandler(type: string) {
  return class {
    readonly ForEntityName = type;

    parseEntity(scanner: Scanner): Entity {
      const groups: Group[] = [];
      let layer: string | undefined;
      let handle: string | undefined;
      let inPaperSpace = false;
      for (let group = scanner.next(); group.code !== 0; group = scanner.next()) {
        if (group.code === 8) layer = String(group.value);
        else if (group.code === 5) handle = String(group.value);
        else if (group.code === 67) inPaperSpace = group.value !== 0;
        else if (typeof group.value === "number") groups.push([group.code, group.value]);
        if (scanner.isEOF()) break;
      }
      return {
        type,
        groups,
        inPaperSpace,
        ...(layer === undefined ? {} : { layer }),
        ...(handle === undefined ? {} : { handle }),
      };
    }
  };
}

/** Parses the groups of a drawing (see `soundGroups`). Throws the parser's message where it cannot. */
export async function parseDrawing(text: string): Promise<Drawing> {
  const loaded = await import("dxf-parser");
  // A bundler sees the package's ESM build, Node its CommonJS one.
  const Parser = (loaded.DxfParser ??
    (loaded.default as unknown as { DxfParser?: unknown }).DxfParser ??
    loaded.default) as unknown as new () => {
    registerEntityHandler(handler: unknown): void;
    parseSync(source: string): Drawing | null;
  };
  const parser = new Parser();
  for (const type of AS_GROUPS) parser.registerEntityHandler(rawHandler(type));
  return parser.parseSync(text) ?? {};
}
