// Seeded chance: the same seed gives the same numbers on every machine (only 32-bit whole-number arithmetic).

export class Random {
  private state: number;
  constructor(seed: number) {
    this.state = seed | 0;
  }
  /** A number in [0, 1): mulberry32, a 32-bit counter through a mixing function. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let t = this.state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }
  /** A whole number in 0 … n-1. */
  below(n: number): number {
    return (this.next() * n) | 0;
  }
  /** About a bell curve with deviation 1: four uniforms, tails cut at 3.46. */
  bell(): number {
    return (this.next() + this.next() + this.next() + this.next() - 2) * 1.7320508;
  }
}
