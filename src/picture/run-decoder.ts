// Runs a decoder in a process of its own, so that a file made to hang or to crash it costs some time and nothing else.
// Takes an ES module text (reads stdin, writes stdout), gives what it wrote.
import { spawn } from 'node:child_process';

/** only what hangs takes so long: a phone's photo takes some three seconds, many times that on a machine with other work */
const SECONDS = 60;
const MOST_BYTES = 600e6;

/** Rejects with an Error whose message is the decoder's last line, "took too long" or "crashed". The process sees an
 *  empty environment; `args` arrive as process.argv[1...]. */
export function runDecoder(script: string, args: readonly string[], input: Uint8Array): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['--max-old-space-size=512', '--input-type=module', '-e', script, ...args], {
      env: {},
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    const out: Buffer[] = [];
    let size = 0;
    let said = '';
    let reason: string | undefined;
    const stop = (why: string): void => {
      reason ??= why;
      child.kill('SIGKILL');
    };
    const timer = setTimeout(() => stop('took too long'), SECONDS * 1000);
    child.stdout.on('data', (chunk: Buffer) => {
      size += chunk.length;
      if (size > MOST_BYTES) stop('is too large');
      else out.push(chunk);
    });
    child.stderr.on('data', (chunk: Buffer) => {
      if (said.length < 4000) said += chunk.toString();
    });
    child.stdin.on('error', () => {}); // a decoder that died early is reported by its exit
    child.on('error', (error) => {
      clearTimeout(timer);
      reject(error);
    });
    child.on('close', (code) => {
      clearTimeout(timer);
      if (code === 0 && !reason) resolve(Buffer.concat(out));
      else reject(new Error(reason ?? (said.trim().split('\n').at(-1) || 'crashed')));
    });
    child.stdin.end(input);
  });
}
