// The whole page: the bar, what must be said at once, and the screen that is open.
import { useEffect } from 'preact/hooks';
import { useBroughtFiles } from './home/bring-files.ts';
import { HomeScreen } from './home/home-screen.tsx';
import { Away } from './parts/away.tsx';
import { TopBar } from './parts/top-bar.tsx';
import { SeriesScreen } from './series/series-screen.tsx';
import { loadHome, loadWork } from './store/actions.ts';
import { usePart } from './store/state.ts';
import { WorkScreen } from './work/work-screen.tsx';

export function App() {
  useBroughtFiles();
  const address = usePart((s) => s.address);
  const id = address.screen === 'work' ? address.id : undefined;
  useEffect(() => {
    if (id) void loadWork(id);
    else void loadHome();
  }, [id, address.screen]);
  return (
    <>
      <button type="button" class="skip" onClick={() => document.getElementById('main')?.focus()}>
        To the main part
      </button>
      {address.screen !== 'work' && <TopBar />}
      <Away />
      {address.screen === 'home' && <HomeScreen />}
      {address.screen === 'work' && <WorkScreen id={address.id} task={address.task} />}
      {address.screen === 'series' && <SeriesScreen id={address.id} />}
    </>
  );
}
