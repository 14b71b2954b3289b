// The name, the way back to all works, and light or dark.
import { useState } from 'preact/hooks';
import { homeAddress } from '../store/address.ts';
import { recall, remember } from '../store/browser-memory.ts';
import { usePart } from '../store/state.ts';

const SCHEMES = [
  { value: '', label: 'Automatic' },
  { value: 'light', label: 'Light' },
  { value: 'dark', label: 'Dark' },
] as const;

export function TopBar() {
  const home = usePart((s) => s.address.screen === 'home');
  const [scheme, setScheme] = useState(recall<string>('scheme', ''));
  const pick = (value: string): void => {
    setScheme(value);
    remember('scheme', value);
    if (value) document.documentElement.dataset.scheme = value;
    else delete document.documentElement.dataset.scheme;
  };
  return (
    <header class="top-bar">
      <a class="brand" href={homeAddress} aria-current={home ? 'page' : undefined}>
        <img src="icon.svg" alt="" width="32" height="32" />
        <span>Seamwright</span>
        {!home && <span class="to-home">All works</span>}
      </a>
      <label class="scheme">
        <span>Light or dark</span>
        <select value={scheme} onChange={(e) => pick(e.currentTarget.value)}>
          {SCHEMES.map((s) => (
            <option key={s.value} value={s.value}>
              {s.label}
            </option>
          ))}
        </select>
      </label>
    </header>
  );
}
