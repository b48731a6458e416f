import type { Point3 } from "../chords.ts";
import type { Block, Drawing, Entity } from "./parse-drawing.ts";
import { type Piece, pieceOf } from "./pieces.ts";
import {
  type Affine,
  apply,
  compose,
  IDENTITY,
  placement,
  planeToSpace,
  stretch,
} from "./transform.ts";

/** Blocks within blocks deeper than this are a fault of the drawing. */
const DEPTH_MAX = 32;

/** Shapes, and points of them, that the blocks of a drawing may come to once they are in place. */
export const SHAPES_MAX = 200_000;
const POINTS_MAX = 2_000_000;

/** One shape of the drawing in its space, on the layer where it shows. */
export interface PlacedPiece {
  readonly piece: Piece;
  readonly entity: Entity;
  /** 1-based place of the entity (of the outermost INSERT for what a block holds) in the drawing. */
  readonly number: number;
  readonly layer: string;
  /** Name of the outermost block that it came in by. */
  readonly block?: string;
}

/** All shapes of a drawing, blocks in place, and what could not be used. */
export interface Expanded {
  readonly pieces: PlacedPiece[];
  readonly missingBlocks: Map<string, number>;
  /** Entities without an outline that can be read, by type. */
  readonly unreadable: Map<string, number>;
  readonly inPaperSpace: number;
  readonly tooMany: boolean;
}

class Expansion {
  readonly pieces: PlacedPiece[] = [];
  readonly missingBlocks = new Map<string, number>();
  readonly unreadable = new Map<string, number>();
  inPaperSpace = 0;
  tooMany = false;
  readonly #blocks: ReadonlyMap<string, Block>;
  readonly #tolerance: number;
  #shapes = 0;
  #points = 0;

  constructor(drawing: Drawing, tolerance: number) {
    this.#blocks = new Map(
      Object.entries(drawing.blocks ?? {}).map(([name, block]) => [name.toUpperCase(), block]),
    );
    this.#tolerance = tolerance;
  }

  add(entity: Entity, number: number, map: Affine, within: Within | undefined): void {
    if (within && ++this.#shapes > SHAPES_MAX) this.tooMany = true;
    if (this.tooMany) return;
    // What lies on layer 0 of a block shows on the layer on which the block is placed.
    const own = entity.layer ?? "0";
    const layer = within && own === "0" ? within.layer : own;
    if (entity.type === "INSERT") {
      this.#insert(entity, number, map, layer, within);
      return;
    }
    const piece = pieceOf(entity, this.#tolerance / stretch(map));
    if (piece === undefined) {
      count(this.unreadable, entity.type);
      return;
    }
    // What stands in the file itself is bounded by its length; a block of a few lines is not.
    if (within) for (const part of piece.parts) this.#points += part.length;
    if (this.#points > POINTS_MAX) this.tooMany = true;
    const placed =
      map === IDENTITY
        ? piece
        : {
            ...piece,
            parts: piece.parts.map((part) => part.map((point) => apply(map, point))),
          };
    this.pieces.push({
      piece: placed,
      entity,
      number,
      layer,
      ...(within === undefined ? {} : { block: within.block }),
    });
  }

  #insert(
    insert: Entity,
    number: number,
    map: Affine,
    layer: string,
    within: Within | undefined,
  ): void {
    const name = (insert.name ?? "").toUpperCase();
    const block = this.#blocks.get(name);
    const path = within?.path ?? [];
    if (block?.entities === undefined || path.includes(name) || path.length >= DEPTH_MAX) {
      count(this.missingBlocks, insert.name ?? "(no name)");
      return;
    }
    const inside: Within = {
      block: within?.block ?? insert.name ?? "",
      layer,
      path: [...path, name],
    };
    for (const place of placesOf(insert, block)) {
      // An empty block may be placed without end as well.
      if (++this.#shapes > SHAPES_MAX) this.tooMany = true;
      const whole = compose(map, place);
      for (const entity of block.entities) this.add(entity, number, whole, inside);
      if (this.tooMany) return;
    }
  }
}

interface Within {
  readonly block: string;
  readonly layer: string;
  readonly path: readonly string[];
}

/** Where each copy of the block goes; several for a rectangular array, whose grid is not scaled. */
function* placesOf(insert: Entity, block: Block): Generator<Affine> {
  const at = insert.position ?? { x: 0, y: 0 };
  const base = block.position ?? { x: 0, y: 0 };
  const scale: Point3 = [insert.xScale ?? 1, insert.yScale ?? 1, insert.zScale ?? 1];
  const rotation = insert.rotation ?? 0;
  const direction = insert.extrusionDirection ?? { x: 0, y: 0, z: 1 };
  const plane = planeToSpace([direction.x, direction.y, direction.z ?? 0]);
  const angle = (rotation * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  for (let row = 0; row < Math.max(1, insert.rowCount ?? 1); row++) {
    for (let column = 0; column < Math.max(1, insert.columnCount ?? 1); column++) {
      const [dx, dy] = [column * (insert.columnSpacing ?? 0), row * (insert.rowSpacing ?? 0)];
      const corner: Point3 = [at.x + c * dx - s * dy, at.y + s * dx + c * dy, at.z ?? 0];
      yield compose(plane, placement(corner, rotation, scale, [base.x, base.y, base.z ?? 0]));
    }
  }
}

function count(counts: Map<string, number>, name: string): void {
  counts.set(name, (counts.get(name) ?? 0) + 1);
}

/** The shapes of the drawing's model space, with every block where it was placed. */
export function expandBlocks(drawing: Drawing, tolerance: number): Expanded {
  const expansion = new Expansion(drawing, tolerance);
  for (const [index, entity] of (drawing.entities ?? []).entries()) {
    if (entity.inPaperSpace) expansion.inPaperSpace++;
    else expansion.add(entity, index + 1, IDENTITY, undefined);
  }
  return expansion;
}
