// The part of the address behind #: which screen is open. So that reloading, going back and a second tab all work.

export const TASKS = ['picture', 'try', 'hand', 'fabric', 'paper', 'sew'] as const;
/** What someone does with a work, in the order in which it is usually done. */
export type Task = (typeof TASKS)[number];

export type Address =
  | { readonly screen: 'home' }
  | { readonly screen: 'work'; readonly id: string; readonly task: Task }
  | { readonly screen: 'series'; readonly id: string };

export function readAddress(hash: string): Address {
  const [screen, id, task] = hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent);
  if (screen === 'work' && id) return { screen, id, task: TASKS.find((t) => t === task) ?? 'picture' };
  if (screen === 'series' && id) return { screen, id };
  return { screen: 'home' };
}

export const homeAddress = '#/';
export const workAddress = (id: string, task: Task = 'picture'): string => `#/work/${encodeURIComponent(id)}/${task}`;
export const seriesAddress = (id: string): string => `#/series/${encodeURIComponent(id)}`;
