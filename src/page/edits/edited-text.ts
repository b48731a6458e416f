/** The site file's text with a list of edits in it. */
import { applyEdit, type EditGround } from "./apply-edit.ts";
import type { Edit } from "./edit.ts";

/**
 * Writes edits into a text. Texts on the way are kept, so that one more edit, one less or another in
 * place of the last costs one step.
 */
export class EditedText {
  readonly #ground: EditGround;
  readonly #texts: string[];
  #edits: readonly string[] = [];

  constructor(text: string, ground: EditGround) {
    this.#texts = [text];
    this.#ground = ground;
  }

  /** The text with these edits in it, in their order. */
  with(edits: readonly Edit[]): string {
    const wanted = edits.map((edit) => JSON.stringify(edit));
    const differs = wanted.findIndex((edit, i) => edit !== this.#edits[i]);
    const same = differs < 0 ? wanted.length : differs;
    this.#texts.length = Math.min(this.#texts.length, same + 1);
    this.#edits = wanted.slice(0, same);
    for (const edit of edits.slice(same)) {
      this.#texts.push(applyEdit(this.#texts.at(-1)!, edit, this.#ground));
    }
    this.#edits = wanted;
    return this.#texts.at(-1)!;
  }
}
