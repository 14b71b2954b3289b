// Keeps the screen on while someone sews, where the browser can (W3C Screen Wake Lock).
import { useEffect, useState } from 'preact/hooks';

export function useScreenOn(wanted: boolean): boolean {
  const [on, setOn] = useState(false);
  useEffect(() => {
    if (!wanted || !('wakeLock' in navigator)) return;
    let lock: WakeLockSentinel | undefined;
    let ended = false;
    const take = async (): Promise<void> => {
      try {
        lock = await navigator.wakeLock.request('screen');
        if (ended) await lock.release();
        else setOn(true);
        lock.addEventListener('release', () => setOn(false));
      } catch {
        setOn(false);
      }
    };
    // the browser lets go of it when the page is hidden
    const again = (): void => {
      if (document.visibilityState === 'visible') void take();
    };
    void take();
    document.addEventListener('visibilitychange', again);
    return () => {
      ended = true;
      document.removeEventListener('visibilitychange', again);
      void lock?.release();
      setOn(false);
    };
  }, [wanted]);
  return on;
}
