// Small things that belong to this browser and not to the work: ways of looking, ticks of what is sewn, notes that were read.

export function recall<T>(key: string, otherwise: T): T {
  try {
    const text = localStorage.getItem(`seamwright-${key}`);
    return text === null ? otherwise : (JSON.parse(text) as T);
  } catch {
    return otherwise;
  }
}

export function remember(key: string, value: unknown): void {
  try {
    localStorage.setItem(`seamwright-${key}`, JSON.stringify(value));
  } catch {
    // a browser that keeps nothing works all the same, until it is reloaded
  }
}
