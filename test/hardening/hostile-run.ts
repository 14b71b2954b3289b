// One hostile file, given to the command as a person would: what it says, and what it took of the processor and of memory.
import { execFile } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { root } from '../cli/run-program.ts';
import { type Hostile, wordsFor } from './hostile-inputs.ts';

/** What is promised. */
export const SECONDS = 15;
export const MEGABYTES = 1024;
/** setting a packet of many hundreds of pieces takes more */
const PACKET_MEGABYTES = 1300;

export interface Taken {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** of processor time, the processes apart with it where the system counts them (Linux) */
  readonly seconds: number;
  /** of memory at most */
  readonly megabytes: number;
  /** what is wrong with all that; undefined where nothing is */
  readonly fault?: string;
}

// times of the children that ended are the 16th and 17th entries of proc_pid_stat(5), in hundredths of a second
const WATCH =
  `data:text/javascript,import{readFileSync}from'node:fs';process.on('exit',()=>{const u=process.resourceUsage();let c=0;
try{const s=readFileSync('/proc/self/stat','utf8').split(') ')[1].split(' ');c=(Number(s[13])+Number(s[14]))/100}catch{}
process.stderr.write('\\npeak='+u.maxRSS+' cpu='+((u.userCPUTime+u.systemCPUTime)/1e6+c))})`.replace(/\n/g, '');

export async function giveHostile(hostile: Hostile, folder: string): Promise<Taken> {
  const file = join(folder, `${hostile.name.replace(/\W+/g, '-')}.${hostile.ending}`);
  await writeFile(file, hostile.text());
  const words = ['--import', WATCH, join(root, 'dist', 'seamwright.js'), ...wordsFor(hostile, file)];
  const said = await new Promise<{ code: number; out: string; err: string }>((done) =>
    execFile(process.execPath, words, { maxBuffer: 1e8 }, (e, out, err) =>
      done({ code: e ? Number(e.code) : 0, out, err }),
    ),
  );
  const [, peak = 'NaN', cpu = 'NaN'] = /peak=(\d+) cpu=([\d.]+)/.exec(said.err) ?? [];
  const taken = { ...said, seconds: Number(cpu), megabytes: Number(peak) / 1024 };
  const fault = faultOf(taken, hostile.words?.includes('--packet') ? PACKET_MEGABYTES : MEGABYTES);
  return { ...taken, ...(fault && { fault }) };
}

function faultOf({ code, out, err, seconds, megabytes }: Taken, most: number): string | undefined {
  if (![0, 1].includes(code)) return `ended with ${code}: ${err.slice(0, 200)}`;
  if (/\n\s+at |fault of the program/.test(err)) return err.slice(0, 200);
  if (code && !out && err.match(/seamwright: [^\n]+\.\n/g)?.length !== 1) return `no sentence: ${err.slice(0, 200)}`;
  if (!(seconds < SECONDS)) return `${seconds} s of processor time`;
  if (!(megabytes < most)) return `${megabytes} MB`;
  return undefined;
}
