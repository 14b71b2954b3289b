/** Waits for something, though not for longer than so many ms: a server that does not answer must keep nobody. */
export async function within(ms: number, done: Promise<unknown>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<void>((r) => {
    timer = setTimeout(r, ms);
  });
  await Promise.race([done.catch(() => {}), late]);
  clearTimeout(timer);
}
