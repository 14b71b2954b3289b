// A few results by their key, the longest unused forgotten first.

export class Kept<T> {
  readonly #most: number;
  readonly #known = new Map<string, T>();

  constructor(most: number) {
    this.#most = most;
  }

  has(key: string): boolean {
    return this.#known.has(key);
  }

  put(key: string, value: T): T {
    this.#known.delete(key);
    this.#known.set(key, value);
    if (this.#known.size > this.#most) this.#known.delete(this.#known.keys().next().value!);
    return value;
  }

  peek(key: string): T | undefined {
    return this.#known.get(key);
  }

  drop(key: string): void {
    this.#known.delete(key);
  }

  /** What is known, else what `make` gives. A failure is not kept. */
  async get(key: string, make: () => Promise<T>): Promise<T> {
    const known = this.#known.get(key);
    return this.put(key, known === undefined ? await make() : known);
  }
}
