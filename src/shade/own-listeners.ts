// Libraries that were compiled from C++ listen for errors that nobody catches and turn them into something else: an exit with no
// word, or a page of their own text. Takes the loading of one; those listeners, and only those, go again.

const EVENTS = ['uncaughtException', 'unhandledRejection'] as const;

export async function withOwnListeners<T>(load: () => T | Promise<T>): Promise<T> {
  const listeners = (event: (typeof EVENTS)[number]) => process.listeners(event as 'uncaughtException');
  const before = EVENTS.map((e) => new Set(listeners(e)));
  const loaded = await load();
  EVENTS.forEach((e, i) => {
    for (const listener of listeners(e))
      if (!before[i]!.has(listener)) process.removeListener(e, listener as (...args: unknown[]) => void);
  });
  return loaded;
}
