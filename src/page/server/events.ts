// What happens, told to every tab that listens.
import type { Context } from 'hono';
import type { Event } from '../api.ts';

/** ms: a line of no meaning, so that a connection that is gone is found out */
const BEAT = 20_000;
/** events that wait for a tab; one that is let go asks for all anew */
const MOST_WAITING = 2000;

export class Events {
  readonly #tabs = new Set<(text: string) => void>();
  readonly #ends = new Set<() => void>();

  readonly tell = (event: Event): void => {
    for (const tab of this.#tabs) tab(`data: ${JSON.stringify(event)}\n\n`);
  };

  stream(c: Context): Response {
    const text = new TextEncoder();
    let end = (): void => {};
    const body = new ReadableStream<Uint8Array>({
      start: (controller) => {
        const send = (line: string): void => {
          // a tab that does not read would have all that happens kept for it
          if ((controller.desiredSize ?? 0) < -MOST_WAITING) {
            end();
            return;
          }
          try {
            controller.enqueue(text.encode(line));
          } catch {
            end();
          }
        };
        const beat = setInterval(() => send(':\n\n'), BEAT);
        beat.unref();
        end = () => {
          clearInterval(beat);
          this.#tabs.delete(send);
          this.#ends.delete(end);
          try {
            controller.close();
          } catch {
            // the tab closed it
          }
        };
        this.#tabs.add(send);
        this.#ends.add(end);
        send(': here\n\n');
      },
      cancel: () => end(),
    });
    c.req.raw.signal.addEventListener('abort', () => end());
    return new Response(body, {
      headers: { 'content-type': 'text/event-stream', 'cache-control': 'no-store', 'x-accel-buffering': 'no' },
    });
  }

  close(): void {
    for (const end of [...this.#ends]) end();
  }
}
