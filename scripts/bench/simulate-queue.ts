// A queue with many workers, as it would be: each worker computes beside the others, and all share what there is one of (the computer
// that hands out, its disk, the server, the network). Service times are those that were measured, drawn again in a seeded order.

export interface Measured {
  /** seconds of a thread for one picture, both rounds, one entry a picture */
  readonly work: readonly number[];
  /** seconds for one picture of what there is one of, by its name; what takes longest in all is where it saturates */
  readonly shared: Readonly<Record<string, number>>;
}

export interface Simulated {
  readonly workers: number;
  /** pictures a second */
  readonly rate: number;
  /** of workers times what one would do alone */
  readonly efficiency: number;
  /** share of the time that each is busy */
  readonly busy: Readonly<Record<string, number>>;
}

/** What is shared is passed one after another, first come first served, before the work; the way back is on the account of the way
 *  there. Every worker has a thread. */
export function simulate(
  { work, shared }: Measured,
  workers: number,
  pictures: number,
  random: () => number,
): Simulated {
  const stations = Object.entries(shared);
  const freeAt = new Map(stations.map(([name]) => [name, 0]));
  const busy = new Map(stations.map(([name]) => [name, 0]));
  // a heap of when each worker asks for its next picture
  const asks: number[] = [];
  const push = (t: number): void => {
    asks.push(t);
    for (let i = asks.length - 1; i > 0; ) {
      const up = (i - 1) >> 1;
      if (asks[up]! <= asks[i]!) break;
      [asks[up], asks[i]] = [asks[i]!, asks[up]!];
      i = up;
    }
  };
  const pop = (): number => {
    const first = asks[0]!;
    const last = asks.pop()!;
    if (asks.length) {
      asks[0] = last;
      for (let i = 0; ; ) {
        const [l, r] = [2 * i + 1, 2 * i + 2];
        const least = r < asks.length && asks[r]! < asks[l]! ? r : l;
        if (least >= asks.length || asks[i]! <= asks[least]!) break;
        [asks[i], asks[least]] = [asks[least]!, asks[i]!];
        i = least;
      }
    }
    return first;
  };
  for (let w = 0; w < workers; w++) push(0);
  let end = 0;
  for (let n = 0; n < pictures; n++) {
    let t = pop();
    for (const [name, seconds] of stations) {
      const begin = Math.max(t, freeAt.get(name)!);
      freeAt.set(name, begin + seconds);
      busy.set(name, busy.get(name)! + seconds);
      t = begin + seconds;
    }
    t += work[Math.floor(random() * work.length)]!;
    end = Math.max(end, t);
    push(t);
  }
  const mean = work.reduce((a, b) => a + b, 0) / work.length;
  const rate = pictures / end;
  return {
    ...{ workers, rate, efficiency: (rate * mean) / workers },
    busy: Object.fromEntries([...busy].map(([name, s]) => [name, s / end])),
  };
}
