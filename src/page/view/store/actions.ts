// What the person does, carried to the server, and what comes back put into the state. Settings are sent a moment after the last
// change; while the server is away they are kept and sent when it is back.
import type { Change, Settings, Work } from '../../api.ts';
import { homeAddress, workAddress } from './address.ts';
import { remember } from './browser-memory.ts';
import { Refused, server, Unreachable } from './server.ts';
import { type Look, now, put } from './state.ts';

/** ms that settings rest before they are sent */
const REST = 120;

const sentence = (e: unknown): string =>
  e instanceof Refused ? e.message : 'Something in this page went wrong. Reload it; your work is kept.';

/** Runs a request: says what is waited for, puts a refusal where it is seen, notices that the server is away. */
export async function attempt<T>(waiting: string, request: () => Promise<T>): Promise<T | undefined> {
  put({ waiting, refusal: undefined });
  try {
    const result = await request();
    put({ reachable: true });
    return result;
  } catch (e) {
    if (e instanceof Unreachable) put({ reachable: false });
    else if (!(e instanceof DOMException && e.name === 'AbortError')) put({ refusal: sentence(e) });
    if (!(e instanceof Refused || e instanceof Unreachable || e instanceof DOMException)) console.error(e);
    return undefined;
  } finally {
    if (now().waiting === waiting) put({ waiting: undefined });
  }
}

/** Takes a work that the server sent, unless a newer one is here or another is open. */
export function receive(work: Work): void {
  const { work: old, address, picked } = now();
  if (address.screen !== 'work' || address.id !== work.id) return;
  if (old?.id === work.id && old.revision > work.revision) return;
  const names = new Set(work.block?.sections.flatMap((s) => s.pieces.map((p) => `${s.id}${p.number}`)));
  const fresh = old?.id === work.id ? {} : ({ wanted: {}, line: undefined, seam: undefined, at: undefined } as const);
  // what was chosen last is shown until something newer is known
  const kept = old?.id === work.id && !work.choices && old.choices ? { ...work, choices: old.choices } : work;
  put({ work: kept, picked: picked.filter((n) => names.has(n)), ...fresh });
}

export async function loadWork(id: string): Promise<void> {
  if (now().work?.id !== id)
    put({ work: undefined, picked: [], several: false, at: undefined, tool: 'pick', refusal: undefined });
  const work = await attempt('opening the work', () => server.work(id));
  if (work) receive(work);
}

export async function loadHome(): Promise<void> {
  const lists = await attempt('looking for your works', () => Promise.all([server.works(), server.allSeries()]));
  if (lists) put({ works: lists[0], series: lists[1] });
}

/** Begins a work with every file: one is opened, several are shown as cards and ticked for a series. */
export async function beginAll(files: readonly File[]): Promise<void> {
  const refusals: string[] = [];
  const gathered: string[] = [];
  for (const file of files) {
    const work = await attempt(`opening ${file.name}`, () => server.begin(file));
    const { refusal } = now();
    if (!work && refusal) refusals.push(refusal);
    if (work?.picture) gathered.push(work.id);
    if (work && files.length === 1) location.hash = workAddress(work.id, work.picture ? 'picture' : 'hand');
  }
  if (files.length > 1) {
    location.hash = homeAddress;
    await loadHome();
    if (gathered.length > 1) put({ gathered });
  }
  if (refusals.length) put({ refusal: refusals.join(' ') });
}

/** Settings, changes and steps are sent one after another, however quickly they are asked for. */
let last: Promise<unknown> = Promise.resolve();
function inTurn<T>(act: () => Promise<T>): Promise<T> {
  const mine = last.then(act);
  last = mine.catch(() => undefined);
  return mine;
}

let resting: ReturnType<typeof setTimeout> | undefined;

/** Changes settings of the open work: shown at once, sent when the hand rests. */
export function set(part: Partial<Settings>): void {
  put({ wanted: { ...now().wanted, ...part }, refusal: undefined });
  clearTimeout(resting);
  resting = setTimeout(() => void sendSettings(), REST);
}

/** One request after another: two at a time might reach the server in the wrong order. */
export const sendSettings = (): Promise<void> => inTurn(sendSettingsNow);

async function sendSettingsNow(): Promise<void> {
  const { work, wanted } = now();
  if (!work || !Object.keys(wanted).length) return;
  const changed = await attempt('taking the new settings', () => server.settings(work.id, wanted));
  // what was changed again meanwhile is still wanted; while the server is away, all of it is
  const kept = now().reachable
    ? Object.fromEntries(Object.entries(now().wanted).filter(([k, v]) => wanted[k as keyof Settings] !== v))
    : now().wanted;
  if (changed) receive(changed);
  put({ wanted: kept });
}

/** The settings as the person sees them: what the server has and what is on its way there. */
export function settingsNow(work: Work, wanted: Partial<Settings>): Settings {
  return { ...work.settings, ...wanted };
}

/** Changes the block by hand. Gives whether it was done. */
export const change = (c: Change): Promise<boolean> => inTurn(() => changeNow(c));

async function changeNow(c: Change): Promise<boolean> {
  const { work } = now();
  if (!work) return false;
  const changed = await attempt('changing the block', () => server.change(work.id, c));
  if (changed) receive(changed);
  return changed !== undefined;
}

export const step = (way: 'undo' | 'redo'): Promise<void> => inTurn(() => stepNow(way));

async function stepNow(way: 'undo' | 'redo'): Promise<void> {
  const { work } = now();
  if (!work?.[way]) return;
  const changed = await attempt(way === 'undo' ? 'taking the step back' : 'doing it again', () =>
    server.step(work.id, way),
  );
  if (changed) receive(changed);
}

export async function copyWork(): Promise<void> {
  const { work } = now();
  if (!work) return;
  const copy = await attempt('copying the work', () => server.copy(work.id));
  if (copy) location.hash = workAddress(copy.id);
}

export function setLook(part: Partial<Look>): void {
  const look = { ...now().look, ...part };
  put({ look });
  remember('look', look);
}

/** Picks one piece, or adds it to those picked or takes it from them. */
export function pick(name: string, add: boolean): void {
  const { picked, several } = now();
  const on = picked.includes(name);
  if (add || several) put({ picked: on ? picked.filter((n) => n !== name) : [...picked, name] });
  else put({ picked: on && picked.length === 1 ? [] : [name], line: undefined });
}
