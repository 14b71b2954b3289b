// Listens to what the server tells: news of works and how far it is. While it is away the browser tries again by itself, and
// what was missed is fetched when it is back.
import type { Event } from '../../api.ts';
import { loadHere, loadHome, loadShelf, loadWork, receive, sendSettings } from './actions.ts';
import { server } from './server.ts';
import { now, put } from './state.ts';

/** ms between two tries while the server is away */
const AGAIN = 2000;

let stream: EventSource | undefined;
let retry: ReturnType<typeof setTimeout> | undefined;

export function listen(): void {
  stream?.close();
  stream = new EventSource('api/events');
  stream.onopen = () => {
    const back = !now().reachable;
    put({ reachable: true });
    if (back) void catchUp();
    void loadHere();
  };
  stream.onerror = () => {
    put({ reachable: false, progress: undefined });
    stream?.close();
    clearTimeout(retry);
    retry = setTimeout(listen, AGAIN);
  };
  stream.onmessage = ({ data }) => hear(JSON.parse(data as string) as Event);
}

/** Ends the stream when the page is left, so that the server need not wait for it. */
export const stopListening = (): void => {
  clearTimeout(retry);
  stream?.close();
};

async function catchUp(): Promise<void> {
  const { address } = now();
  put({ ticked: now().ticked + 1 });
  if (Object.keys(now().wanted).length) await sendSettings();
  if (address.screen === 'work') await loadWork(address.id);
  else await loadHome();
}

/** The newest revision that was heard of while an answer was still on its way. */
let fetching = false;

async function refresh(id: string, revision: number): Promise<void> {
  const { work } = now();
  if (work?.id !== id || work.revision >= revision || fetching) return;
  fetching = true;
  try {
    receive(await server.work(id));
  } catch {
    // the stream itself says when the server is away
  } finally {
    fetching = false;
  }
  const latest = heard.get(id) ?? 0;
  if (now().work?.id === id && (now().work?.revision ?? 0) < latest) {
    heard.delete(id);
    await refresh(id, latest);
  }
}

const heard = new Map<string, number>();

function hear(event: Event): void {
  const { address, progress } = now();
  if (event.kind === 'ticks') put({ ticked: now().ticked + 1 });
  else if (event.kind === 'shelf') void loadShelf();
  else if (event.kind === 'progress') {
    put({ progress: event.share >= 1 ? undefined : event });
  } else if (event.kind === 'work') {
    heard.set(event.id, event.revision);
    if (progress?.id === event.id && progress.share >= 1) put({ progress: undefined });
    if (address.screen === 'work' && address.id === event.id) void refresh(event.id, event.revision);
    else if (address.screen !== 'work') void loadHome();
  } else if (address.screen !== 'work') void loadHome();
}
