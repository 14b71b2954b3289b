// Seeded chance: the same seed gives the same numbers on every machine (only 32-bit whole-number arithmetic).

export class Random {
  static state: i32 = 0;
}

/** A number in [0, 1): mulberry32, a 32-bit counter through a mixing function. */
export function next(): f64 {
  Random.state += 0x6d2b79f5;
  let t: u32 = Random.state;
  t = (t ^ (t >>> 15)) * (t | 1);
  t ^= t + (t ^ (t >>> 7)) * (t | 61);
  return <f64>(t ^ (t >>> 14)) / 4294967296.0;
}

/** A whole number in 0 … n-1. */
export function below(n: i32): i32 {
  return <i32>(next() * <f64>n);
}

/** About a bell curve with deviation 1: four uniforms, tails cut at 3.46. */
export function bell(): f64 {
  return (next() + next() + next() + next() - 2) * 1.7320508;
}
