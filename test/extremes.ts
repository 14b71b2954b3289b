// The greatest and the least of a list that a test judges. Of an empty list Math.max gives -Infinity, which is less than
// anything: a test that found nothing to judge would pass.

export function greatest(list: readonly number[]): number {
  if (!list.length) throw new Error('there is nothing to be the greatest of');
  return list.reduce((a, b) => Math.max(a, b));
}

export function least(list: readonly number[]): number {
  if (!list.length) throw new Error('there is nothing to be the least of');
  return list.reduce((a, b) => Math.min(a, b));
}
