// What the person does, carried to the server, and what comes back put into the state. Settings are sent a moment after the last
// change; while the server is away they are kept and sent when it is back.
import type { Block } from '../../../block.ts';
import type { Change, Settings, Work } from '../../api.ts';
import { WHOLE } from '../parts/zoom.ts';
import { homeAddress, workAddress } from './address.ts';
import { remember } from './browser-memory.ts';
import { foreseen } from './foresee.ts';
import { samePieces } from './same-pieces.ts';
import { Refused, server, Unreachable, WouldSetAside } from './server.ts';
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

/** The open work as the server said it last, and the changes that are on their way there. */
let told: Work | undefined;
let pending: readonly Change[] = [];

/** A block that was seen beside others and picked: shown until the same one is made for the work. */
let taken: { readonly id: string; readonly block: Block } | undefined;

export function take(part: Partial<Settings>, block: Block): void {
  const { work } = now();
  if (work) taken = { id: work.id, block };
  set(part);
}

/** Takes a work that the server sent, unless a newer one is here or another is open. */
export function receive(work: Work): void {
  const { work: old, address } = now();
  if (address.screen !== 'work' || address.id !== work.id) return;
  if (old?.id === work.id && old.revision > work.revision) return;
  // what was chosen last is shown until something newer is known
  told = old?.id === work.id && !work.choices && old.choices ? { ...work, choices: old.choices } : work;
  show(old?.id !== work.id);
}

/** Picks end with the block that they were made on: what is called the same is another piece where its shape is another. */
function show(fresh: boolean): void {
  if (!told) return;
  const { work: old, picked, at } = now();
  if (taken?.id !== told.id || !(told.stage === 'waiting' || told.stage === 'coarse')) taken = undefined;
  const work = taken ? { ...told, block: taken.block } : foreseen(told, pending);
  const same = samePieces(old?.block, work.block);
  put({
    work,
    ...(fresh
      ? { wanted: {}, line: undefined, seam: undefined, at: undefined, picked: [] }
      : {
          picked: picked.every(same) ? picked : picked.filter(same),
          at: at !== undefined && same(at) ? at : undefined,
        }),
  });
}

export async function loadWork(id: string): Promise<void> {
  if (now().work?.id !== id)
    put({
      ...{ work: undefined, picked: [], several: false, at: undefined, tool: 'pick', refusal: undefined },
      ...{ blockZoom: WHOLE, pictureZoom: WHOLE },
    });
  const work = await attempt('opening the project', () => server.work(id));
  if (work) receive(work);
}

export async function loadHome(): Promise<void> {
  const lists = await attempt('looking for your projects', () => Promise.all([server.works(), server.allSeries()]));
  if (lists) put({ works: lists[0], series: lists[1] });
}

/** Whoever looks on from a tablet sees what is sewn, and no tools. */
export async function loadHere(): Promise<void> {
  const here = await server.here().catch(() => undefined);
  if (here) put({ here });
}

export async function loadShelf(): Promise<void> {
  const shelf = await server.shelf().catch(() => undefined);
  if (shelf) put({ shelf });
}

/** ms between two tries of a file while the server is away */
const AGAIN = 1500;

/** Begins a work with every file: one is opened, several are shown as cards and ticked for a series. What is no picture is said at
 *  once; while the program is away the rest waits for it. */
export async function beginAll(files: readonly File[]): Promise<void> {
  if (!files.length) return;
  const several = files.length > 1;
  const names = files.map((f) => f.name);
  const refused: { name: string; says: string }[] = [];
  const gathered: string[] = [];
  if (several) location.hash = homeAddress;
  for (const [i, file] of files.entries()) {
    put({ bringing: { names, at: i, refused: [...refused] } });
    const work = await begin(file);
    const { refusal } = now();
    if (!work) refused.push({ name: file.name, says: refusal ?? 'It could not be opened.' });
    else if (work.picture) gathered.push(work.id);
    if (several) await loadHome();
    if (work && !several) location.hash = workAddress(work.id, work.picture ? 'picture' : 'hand');
  }
  const left = refused.length && several ? { names, at: files.length, refused } : undefined;
  put({ bringing: left, ...(several && { refusal: undefined }) });
  if (gathered.length > 1) put({ gathered });
}

async function begin(file: File): Promise<Work | undefined> {
  for (;;) {
    const work = await attempt(`opening ${file.name}`, () => server.begin(file));
    if (work || now().reachable) return work;
    await new Promise((r) => setTimeout(r, AGAIN));
  }
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
export const sendSettings = (): Promise<void> => inTurn(() => sendSettingsNow(false));

async function sendSettingsNow(over: boolean): Promise<void> {
  const { work, wanted } = now();
  if (!work || !Object.keys(wanted).length) return;
  let aside = 0;
  const changed = await attempt('taking the new settings', () =>
    server.settings(work.id, wanted, over).catch((e: unknown) => {
      if (!(e instanceof WouldSetAside)) throw e;
      aside = e.changes;
      return undefined;
    }),
  );
  if (aside) {
    put({ setsAside: aside });
    return;
  }
  // what was changed again meanwhile is still wanted; while the server is away, all of it is
  const kept = now().reachable
    ? Object.fromEntries(Object.entries(now().wanted).filter(([k, v]) => wanted[k as keyof Settings] !== v))
    : now().wanted;
  if (changed) receive(changed);
  put({ wanted: kept });
}

/** What becomes of the changes by hand that the wanted settings would set aside. */
export async function decide(what: 'copy' | 'refit' | 'cancel'): Promise<void> {
  put({ setsAside: undefined });
  const { work } = now();
  if (what === 'cancel' || !work) {
    put({ wanted: {} });
    return;
  }
  if (what === 'copy') {
    const copy = await attempt('keeping your changes in a copy', () => server.copy(work.id));
    if (!copy) return;
  }
  await inTurn(() => sendSettingsNow(true));
}

/** The settings as the person sees them: what the server has and what is on its way there. */
export function settingsNow(work: Work, wanted: Partial<Settings>): Settings {
  return { ...work.settings, ...wanted };
}

/** Changes the block by hand: drawn at once, then said to the server. Gives whether it was done. */
export function change(c: Change): Promise<boolean> {
  if (!now().work) return Promise.resolve(false);
  pending = [...pending, c];
  show(false);
  return inTurn(() => changeNow(c));
}

async function changeNow(c: Change): Promise<boolean> {
  const { work } = now();
  const changed = work && (await attempt('changing the block', () => server.change(work.id, c)));
  pending = pending.filter((p) => p !== c);
  if (changed) receive(changed);
  else show(false);
  return changed !== undefined;
}

export const step = (way: 'undo' | 'redo'): Promise<void> => inTurn(() => stepNow(way));

async function stepNow(way: 'undo' | 'redo'): Promise<void> {
  const { work } = now();
  if (!work?.[way]) return;
  const changed = await attempt(way === 'undo' ? 'undoing' : 'redoing', () => server.step(work.id, way));
  if (changed) receive(changed);
}

export async function copyWork(): Promise<void> {
  const { work } = now();
  if (!work) return;
  const copy = await attempt('copying the project', () => server.copy(work.id));
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
