import type { PointM } from "../../model/geometry.ts";

/** Stands for no trial. */
export const NONE = -1;

/** Room for this many trials to begin with. */
const FIRST_ROOM = 1024;
/** Numbers of each trial: east, north, along, lap, depth. */
const WIDTH = 5;

/**
 * Pegs tried, each known by its number: where it stands, how far along, and what came before it.
 * Kept in two flat arrays: a search tries hundreds of thousands, and objects would cost most of its time.
 */
export class Trials {
  #numbers = new Float64Array(WIDTH * FIRST_ROOM);
  #links = new Int32Array(2 * FIRST_ROOM);
  #size = 0;

  /** Forgets all trials, so that the room may be used for another search. */
  clear(): void {
    this.#size = 0;
  }

  /**
   * @param alongM place along the track in its own lap, metres
   * @param lapM length of the laps before its own, metres
   * @param edge edge of the track that it stands beside
   * @param back the trial before it in its row, or `NONE`
   * @returns its number
   */
  add(
    e: number,
    n: number,
    alongM: number,
    lapM: number,
    depthM: number,
    edge: number,
    back: number,
  ): number {
    const id = this.#size++;
    if (2 * id === this.#links.length) this.#grow();
    const k = WIDTH * id;
    this.#numbers[k] = e;
    this.#numbers[k + 1] = n;
    this.#numbers[k + 2] = alongM;
    this.#numbers[k + 3] = lapM;
    this.#numbers[k + 4] = depthM;
    this.#links[2 * id] = edge;
    this.#links[2 * id + 1] = back;
    return id;
  }

  /** The same peg some laps later, after another trial. */
  again(id: number, lapM: number, back: number): number {
    const [e, n] = this.at(id);
    const laterM = this.lapM(id) + lapM;
    return this.add(e, n, this.alongM(id), laterM, this.depthM(id), this.edge(id), back);
  }

  /** Where it stands, metres. */
  at(id: number): PointM {
    return [this.e(id), this.n(id)];
  }

  e(id: number): number {
    return this.#numbers[WIDTH * id]!;
  }

  n(id: number): number {
    return this.#numbers[WIDTH * id + 1]!;
  }

  alongM(id: number): number {
    return this.#numbers[WIDTH * id + 2]!;
  }

  lapM(id: number): number {
    return this.#numbers[WIDTH * id + 3]!;
  }

  depthM(id: number): number {
    return this.#numbers[WIDTH * id + 4]!;
  }

  edge(id: number): number {
    return this.#links[2 * id]!;
  }

  back(id: number): number {
    return this.#links[2 * id + 1]!;
  }

  /** How far along a peg stands, laps included, metres. */
  wholeWayM(id: number): number {
    return this.lapM(id) + this.alongM(id);
  }

  /** The trials of a row in order, its first and last included. */
  rowTo(last: number): number[] {
    const row: number[] = [];
    for (let id = last; id !== NONE; id = this.back(id)) row.push(id);
    return row.reverse();
  }

  #grow(): void {
    const numbers = new Float64Array(2 * this.#numbers.length);
    numbers.set(this.#numbers);
    this.#numbers = numbers;
    const links = new Int32Array(2 * this.#links.length);
    links.set(this.#links);
    this.#links = links;
  }
}
