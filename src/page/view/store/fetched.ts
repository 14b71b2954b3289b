// Something that belongs to a work and is asked for again when the work has something new: its sheets, its cutting list.
import { useEffect, useState } from 'preact/hooks';
import { Refused } from './server.ts';

export interface Fetched<T> {
  readonly value: T | undefined;
  /** a sentence, where it could not be had */
  readonly fault: string | undefined;
  /** shown while a newer one is on its way */
  readonly old: boolean;
}

export function useFetched<T>(key: string, ready: boolean, ask: () => Promise<T>): Fetched<T> {
  const [got, setGot] = useState<{ readonly key: string; readonly value?: T; readonly fault?: string }>({ key: '' });
  useEffect(() => {
    if (!ready) return;
    let stale = false;
    ask().then(
      (value) => {
        if (!stale) setGot({ key, value });
      },
      (e: unknown) => {
        const fault =
          e instanceof Refused ? e.message : 'The program does not answer; this is asked for again when it is back.';
        if (!stale) setGot((old) => ({ ...old, key, fault }));
      },
    );
    return () => {
      stale = true;
    };
  }, [key, ready]);
  return { value: got.value, fault: got.fault, old: got.key !== key };
}
