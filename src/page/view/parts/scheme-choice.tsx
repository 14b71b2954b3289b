// Light or dark, as this browser is to have it.
import { useState } from 'preact/hooks';
import { recall, remember } from '../store/browser-memory.ts';

const SCHEMES = [
  { value: '', label: 'Automatic' },
  { value: 'light', label: 'Light' },
  { value: 'dark', label: 'Dark' },
] as const;

export function SchemeChoice() {
  const [scheme, setScheme] = useState(recall<string>('scheme', ''));
  const pick = (value: string): void => {
    setScheme(value);
    remember('scheme', value);
    if (value) document.documentElement.dataset.scheme = value;
    else delete document.documentElement.dataset.scheme;
  };
  return (
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
  );
}
