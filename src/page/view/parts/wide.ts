// Whether the window has room for this: the same widths as in look/.
import { useEffect, useState } from 'preact/hooks';

/** two things beside each other */
export const TWO = '(min-width: 720px)';

export function useRoom(query: string): boolean {
  const [has, setHas] = useState(() => matchMedia(query).matches);
  useEffect(() => {
    const list = matchMedia(query);
    const tell = (): void => setHas(list.matches);
    tell();
    list.addEventListener('change', tell);
    return () => list.removeEventListener('change', tell);
  }, [query]);
  return has;
}
