// Where the program's threads begin. Apart from worker.ts, which imports the jobs of all rooms: those rooms import this.
import { threadFile } from './threads/start-thread.ts';

export const WORKER = threadFile(import.meta.url, './worker.ts', './worker.js');
