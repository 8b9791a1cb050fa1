/** Where a build was counted from. */
export interface CountedBuild {
  /** Place of its file in the list of files. */
  readonly file: number;
  /** Events in its chain. */
  readonly entries: number;
}

/** Share of the places that may be taken before the table is doubled. */
const fullest = 0.6;

/**
 * Builds by the first 64 bits of a hash of their name: 16 bytes for each, so that a hundred thousand take few
 * megabytes. Two builds may meet at one place; whoever finds one looks whether it is the same.
 */
export class BuildTable {
  #keys = new Uint32Array(2 * 1024);
  /** File + 1, so that 0 is an empty place; then events. */
  #values = new Uint32Array(2 * 1024);
  #count = 0;

  /** @param key A hash in hex, 16 digits or more. */
  find(key: string): CountedBuild | null {
    const at = this.#placeOf(halves(key));
    const file = this.#values[2 * at] ?? 0;
    return file === 0 ? null : { file: file - 1, entries: this.#values[2 * at + 1] ?? 0 };
  }

  put(key: string, { file, entries }: CountedBuild): void {
    if (this.#count > fullest * (this.#keys.length / 2)) this.#double();
    this.#set(halves(key), file + 1, entries);
  }

  #set(key: readonly [number, number], file: number, entries: number): void {
    const at = this.#placeOf(key);
    if (this.#values[2 * at] === 0) this.#count += 1;
    this.#keys.set(key, 2 * at);
    this.#values.set([file, entries], 2 * at);
  }

  #placeOf([high, low]: readonly [number, number]): number {
    const places = this.#keys.length / 2;
    let at = low % places;
    while (this.#values[2 * at] !== 0 && (this.#keys[2 * at] !== high || this.#keys[2 * at + 1] !== low)) {
      at = (at + 1) % places;
    }
    return at;
  }

  #double(): void {
    const [keys, values] = [this.#keys, this.#values];
    this.#keys = new Uint32Array(keys.length * 2);
    this.#values = new Uint32Array(keys.length * 2);
    this.#count = 0;
    for (let at = 0; at < keys.length; at += 2) {
      const file = values[at] ?? 0;
      if (file !== 0) this.#set([keys[at] ?? 0, keys[at + 1] ?? 0], file, values[at + 1] ?? 0);
    }
  }
}

function halves(key: string): readonly [number, number] {
  return [Number.parseInt(key.slice(0, 8), 16), Number.parseInt(key.slice(8, 16), 16)];
}
