// How many bytes may lie in Redis at once: whoever wants to put some down waits until there is room.

export class Budget {
  readonly size: number;
  #used = 0;
  readonly #waiting: { readonly bytes: number; go(): void }[] = [];

  constructor(size: number) {
    this.size = size;
  }

  get used(): number {
    return this.#used;
  }

  /** Waits its turn. More than the whole is let in when nothing else is there. Gives what ends it, which counts once. */
  async take(bytes: number): Promise<() => void> {
    if (this.#waiting.length || !this.#fits(bytes))
      await new Promise<void>((go) => {
        this.#waiting.push({ bytes, go });
      });
    else this.#used += bytes;
    let over = false;
    return () => {
      if (over) return;
      over = true;
      this.#used -= bytes;
      while (this.#waiting.length && this.#fits(this.#waiting[0]!.bytes)) {
        const next = this.#waiting.shift()!;
        this.#used += next.bytes;
        next.go();
      }
    };
  }

  #fits(bytes: number): boolean {
    return this.#used === 0 || this.#used + bytes <= this.size;
  }
}
