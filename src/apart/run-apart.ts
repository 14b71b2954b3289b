// Runs what parses a stranger's bytes in a process of its own, so that a file made to hang, to grow or to crash it costs some
// processor time and nothing else. Takes an ES module text (reads stdin, writes stdout), gives what it wrote.
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';

export interface Limits {
  /** of processor time, not of the clock: a busy machine makes a file slow, not wrong. Where the system does not count it
   *  (Windows), WALL_FACTOR times as much by the clock */
  readonly seconds: number;
  /** of memory, for the process as a whole where the system counts it (Linux), else for its JavaScript alone */
  readonly megabytes?: number;
  /** a module that it loads: it may read the packages that lie beside that, and no other file (Node's permission model) */
  readonly module: string;
  /** whether the module has native parts; what those do, the permission model does not see */
  readonly native?: boolean;
}

/** What a file of moderate size is given. */
export const SECONDS = 15;
const MEGABYTES = 900;
const MOST_BYTES = 600e6;
/** only what waits for ever takes so much longer by the clock */
const WALL_FACTOR = 20;
const HEAP_MB = 512;

/** A process that has not used the processor for so long waits for something that does not come: a native decoder's threads may lie in wait for
 *  one another. How often that is looked at. */
const IDLE_MS = 12_000;
const LOOK_MS = 2000;

/** unloaded: the script had not yet said LOADED, so nothing of the file had been looked at */
export type Reason = 'slow' | 'large' | 'crashed' | 'said' | 'unloaded' | 'stuck';

/** What a script prints on stderr, on a line of its own, once it has loaded its modules. */
const LOADED = 'loaded\n';

/** Why there is no answer; `message` is the script's last line where it said something. */
export class ApartError extends Error {
  readonly reason: Reason;
  constructor(reason: Reason, said = '') {
    super(
      said ||
        {
          slow: 'it takes too long',
          large: 'it is too large',
          crashed: 'it is damaged',
          said: '',
          unloaded: 'it cannot be loaded',
          stuck: 'it does not come to an end',
        }[reason],
    );
    this.reason = reason;
  }
}

/** Rejects with ApartError. The process sees an empty environment; `args` arrive as process.argv[1...]. */
export async function runApart(
  script: string,
  args: readonly string[],
  input: Uint8Array,
  limits: Limits,
): Promise<Buffer> {
  const guarded = permissionsFor(limits);
  try {
    return await runOnce(script, args, input, limits, guarded);
  } catch (e) {
    // packages may lie where links lead; the limits of time and memory hold all the same
    if (guarded.length && e instanceof ApartError && e.reason === 'unloaded')
      return runOnce(script, args, input, limits, []);
    // threads that lay in wait for one another do so by chance
    if (e instanceof ApartError && e.reason === 'stuck') return runOnce(script, args, input, limits, guarded);
    throw e;
  }
}

/** Node's permission model: no file but the packages, no writing, no process, no thread. */
function permissionsFor({ module, native }: Limits): string[] {
  const known = process.allowedNodeEnvironmentFlags;
  const flag = ['--permission', '--experimental-permission'].find((f) => known.has(f));
  const end = module.lastIndexOf('node_modules');
  if (!flag || end < 0 || (native && !known.has('--allow-addons'))) return [];
  const packages = module.slice(0, end + 'node_modules'.length);
  return [flag, `--allow-fs-read=${packages}/*`, ...(native ? ['--allow-addons'] : [])];
}

function runOnce(
  script: string,
  args: readonly string[],
  input: Uint8Array,
  { seconds, megabytes = MEGABYTES }: Limits,
  permissions: readonly string[],
): Promise<Buffer> {
  const node = ['--no-warnings', `--max-old-space-size=${HEAP_MB}`, ...permissions];
  const words = [process.execPath, ...node, '--input-type=module', '-e', script, '--', ...args];
  const [command, ...rest] = process.platform === 'win32' ? words : limited(words, seconds, megabytes);
  return new Promise((resolve, reject) => {
    const child = spawn(command!, rest, { env: {}, stdio: ['pipe', 'pipe', 'pipe'] });
    const out: Buffer[] = [];
    let size = 0;
    let said = '';
    let stopped: Reason | undefined;
    const stop = (why: Reason): void => {
      stopped ??= why;
      child.kill('SIGKILL');
    };
    const timer = setTimeout(() => stop('slow'), seconds * WALL_FACTOR * 1000);
    const idle = watchIdle(child.pid, () => stop('stuck'));
    child.stdout.on('data', (chunk: Buffer) => {
      size += chunk.length;
      if (size > MOST_BYTES) stop('large');
      else out.push(chunk);
    });
    child.stderr.on('data', (chunk: Buffer) => {
      if (said.length < 4000) said += chunk.toString();
    });
    child.stdin.on('error', () => {}); // one that died early is reported by its exit
    child.on('error', (error) => {
      clearTimeout(timer);
      clearInterval(idle);
      reject(error);
    });
    child.on('close', (code, signal) => {
      clearTimeout(timer);
      clearInterval(idle);
      if (code === 0 && !stopped) resolve(Buffer.concat(out));
      else if (stopped || signal === 'SIGXCPU') reject(new ApartError(stopped ?? 'slow'));
      else if (OUT_OF_MEMORY.test(said)) reject(new ApartError('large'));
      else {
        const [, last] = /([^\n]*)\n*$/.exec(said.split(LOADED).at(-1)!)!;
        const why = !said.includes(LOADED) ? 'unloaded' : code !== null && last ? 'said' : 'crashed';
        reject(new ApartError(why, why === 'said' ? last : ''));
      }
    });
    child.stdin.end(input);
  });
}

/** Calls `stop` where a process uses no processor time for IDLE_MS; only where the system tells (Linux). */
function watchIdle(pid: number | undefined, stop: () => void): NodeJS.Timeout {
  let [used, since] = ['', Date.now()];
  return setInterval(() => {
    let now: string;
    try {
      // user and system time are the 14th and 15th entries of proc_pid_stat(5)
      now = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ').slice(11, 13).join(' ');
    } catch {
      return;
    }
    if (now !== used) [used, since] = [now, Date.now()];
    else if (Date.now() - since > IDLE_MS) stop();
  }, LOOK_MS);
}

const OUT_OF_MEMORY =
  /out of memory|allocation failed|failed to allocate|memory allocation|Cannot enlarge memory|could not allocate/i;

/** Under the shell's limits, which the system keeps: processor time, then what the process has of memory (in kB), where the
 *  system knows these. */
function limited(words: readonly string[], seconds: number, megabytes: number): string[] {
  const limits = `ulimit -S -t ${seconds}; ulimit -H -t ${seconds + 1}; ulimit -d ${megabytes * 1000} 2>/dev/null`;
  return ['/bin/sh', '-c', `${limits}; exec "$0" "$@"`, ...words];
}
