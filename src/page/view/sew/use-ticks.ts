// What is sewn: ticked here, kept in the folder, the same on every screen. While the program is away it is kept in this browser, and sent
// when the program is back.
import { useEffect, useState } from 'preact/hooks';
import { recall, remember } from '../store/browser-memory.ts';
import { server } from '../store/server.ts';
import { usePart } from '../store/state.ts';

interface Kept {
  /** as the folder had it last */
  readonly known: readonly string[];
  readonly on: readonly string[];
  readonly off: readonly string[];
}
const NONE: Kept = { known: [], on: [], off: [] };

const shown = ({ known, on, off }: Kept): readonly string[] => [
  ...new Set([...known, ...on].filter((k) => !off.includes(k))),
];

export function useTicks(id: string): readonly [readonly string[], (key: string, on: boolean) => void] {
  const place = `ticks-${id}`;
  const ticked = usePart((s) => s.ticked);
  const reachable = usePart((s) => s.reachable);
  const [kept, setKept] = useState<Kept>(() => {
    // ticks of before they were kept in the folder
    const before = recall<readonly string[]>(`sewn-${id}`, []);
    return recall<Kept>(place, before.length ? { ...NONE, on: before } : NONE);
  });
  const keep = (next: Kept): void => {
    setKept(next);
    remember(place, next);
  };
  const send = async ({ on, off }: Kept): Promise<void> => {
    const known = await (on.length || off.length ? server.tick(id, on, off) : server.ticks(id)).catch(() => undefined);
    if (!known) return;
    // what was ticked meanwhile is still on its way
    setKept((now) => {
      const next = {
        known,
        on: now.on.filter((k) => !on.includes(k)),
        off: now.off.filter((k) => !off.includes(k)),
      };
      remember(place, next);
      return next;
    });
  };
  useEffect(() => void send(kept), [id, ticked, reachable]);
  const tick = (key: string, on: boolean): void => {
    const next: Kept = {
      known: kept.known,
      on: on ? [...kept.on, key] : kept.on.filter((k) => k !== key),
      off: on ? kept.off.filter((k) => k !== key) : [...kept.off, key],
    };
    keep(next);
    void send(next);
  };
  return [shown(kept), tick];
}
