/** A hash table is filled to this share at most. */
const FULL = 0.5;

/**
 * Numbers points in the order in which they come, the same point the same number. An open hash table
 * over the bits of the coordinates: text keys would take longer than the triangulation's own sorting.
 */
export class PointNumbers {
  #slots = new Int32Array(2048).fill(-1);
  #coords = new Float64Array(2048);
  #count = 0;
  readonly #number = new Float64Array(2);
  readonly #bits = new Int32Array(this.#number.buffer);

  /** The point's number: that of an equal one before it, or the next. */
  of(e: number, n: number): number {
    // Negative zero is zero.
    const east = e + 0;
    const north = n + 0;
    const mask = this.#slots.length - 1;
    let slot = this.#hash(east, north) & mask;
    for (let known = this.#slots[slot]!; known !== -1; known = this.#slots[slot]!) {
      if (this.#coords[2 * known] === east && this.#coords[2 * known + 1] === north) return known;
      slot = (slot + 1) & mask;
    }
    const number = this.#count++;
    if (2 * number === this.#coords.length) this.#coords = longer(this.#coords);
    this.#coords[2 * number] = east;
    this.#coords[2 * number + 1] = north;
    this.#slots[slot] = number;
    if (this.#count > FULL * this.#slots.length) this.#spread();
    return number;
  }

  #hash(e: number, n: number): number {
    this.#number[0] = e;
    this.#number[1] = n;
    const bits = this.#bits;
    let hash = Math.imul(bits[0]! ^ (bits[1]! >>> 7), 0x9e3779b1);
    hash = Math.imul(hash ^ (hash >>> 15) ^ bits[2]!, 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 13) ^ bits[3]!, 0xc2b2ae35);
    return hash ^ (hash >>> 16);
  }

  #spread(): void {
    const slots = new Int32Array(2 * this.#slots.length).fill(-1);
    const mask = slots.length - 1;
    for (let k = 0; k < this.#count; k++) {
      let slot = this.#hash(this.#coords[2 * k]!, this.#coords[2 * k + 1]!) & mask;
      while (slots[slot] !== -1) slot = (slot + 1) & mask;
      slots[slot] = k;
    }
    this.#slots = slots;
  }
}

function longer(numbers: Float64Array): Float64Array<ArrayBuffer> {
  const twice = new Float64Array(2 * numbers.length);
  twice.set(numbers);
  return twice;
}
