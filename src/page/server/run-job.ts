// One job -> its answer. What takes long to load is loaded by the job that needs it.
import type { Progress } from '../../pipeline.ts';
import type { Answers, AnswerTo, Job } from './jobs.ts';

type Run = (job: never, progress: Progress, part: (part: unknown) => void) => Promise<Answers[keyof Answers]>;

const RUNS: Readonly<Record<Job['kind'], () => Promise<Run>>> = {
  open: async () => (await import('./make-work.ts')).openFile,
  make: async () => (await import('./make-work.ts')).makeWork,
  foresee: async () => (await import('./make-work.ts')).foresee,
  change: async () => (await import('./change-work.ts')).changeWork,
  print: async () => (await import('./print-work.ts')).printWork,
  sheets: async () => (await import('./print-work.ts')).drawSheets,
  fabric: async () => (await import('./fabric-list.ts')).listFabric,
  cloth: async () => (await import('./cloth.ts')).readSnapshot,
  compare: async () => (await import('./compare-work.ts')).compareWork,
  series: async () => (await import('./series-work.ts')).makeSeries,
};

export async function runJob<J extends Job>(
  job: J,
  progress: Progress,
  part: (part: unknown) => void,
): Promise<AnswerTo<J>> {
  const run = await RUNS[job.kind]();
  return (await run(job as never, progress, part)) as AnswerTo<J>;
}
