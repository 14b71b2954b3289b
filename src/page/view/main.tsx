// The page's view: shows what the server knows of the works and carries to it what the person does.
import { render } from 'preact';
import { App } from './app.tsx';
import { readAddress } from './store/address.ts';
import { recall } from './store/browser-memory.ts';
import { listen, stopListening } from './store/events.ts';
import { put } from './store/state.ts';

const scheme = recall<string>('scheme', '');
if (scheme) document.documentElement.dataset.scheme = scheme;

addEventListener('hashchange', () => put({ address: readAddress(location.hash) }));
addEventListener('pagehide', stopListening);
addEventListener('pageshow', (e) => {
  if (e.persisted) listen();
});
listen();
// the page's own files, for when the connection drops; browsers offer this where the page is this machine's own
if ('serviceWorker' in navigator) void navigator.serviceWorker.register('sw.js', { type: 'module' }).catch(() => {});
render(<App />, document.getElementById('page')!);
