/** Seeded chance for mutations: a case is a function of (seed, target, number), whatever ran before. */
export class Chance {
  #state: number;

  constructor(seed: number, target: string, number: number) {
    // FNV-1a over the target's name, then the finaliser of MurmurHash3 (public domain), so that
    // neighbouring numbers have nothing in common.
    let hash = 0x811c_9dc5 ^ seed;
    for (let i = 0; i < target.length; i++)
      hash = Math.imul(hash ^ target.charCodeAt(i), 0x0100_0193);
    hash = Math.imul(hash ^ number ^ (hash >>> 16), 0x85eb_ca6b);
    hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2_ae35);
    this.#state = (hash ^ (hash >>> 16)) | 0;
  }

  /** Uniform in [0, 1): mulberry32 (public domain). */
  next(): number {
    this.#state = (this.#state + 0x6d2b_79f5) | 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  }

  /** A whole number from 0 to `below` less one; 0 where there is none. */
  int(below: number): number {
    return Math.floor(this.next() * below);
  }

  oneIn(times: number): boolean {
    return this.next() * times < 1;
  }

  pick<T>(list: readonly T[]): T {
    return list[this.int(list.length)]!;
  }

  /** Small mostly, now and then large: 1 to `most`, each doubling half as likely. */
  size(most: number): number {
    let reach = 2;
    while (reach < most && this.oneIn(2)) reach *= 2;
    return 1 + this.int(Math.min(reach, most));
  }
}
