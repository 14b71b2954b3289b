// What the comparison asks of its threads, besides fitting: one cell of the sheet.
import type { BlockJobs } from '../pipeline/jobs.ts';
import { type JobTable, job } from '../threads/jobs.ts';
import type { Compared, FittedCell } from './judge-fitted.ts';

interface CellJobs {
  judgeFitted: { input: FittedCell; output: Compared };
}
export type CompareJobs = CellJobs & Pick<BlockJobs, 'fitPieces'>;

export const compareJobs: JobTable<CellJobs> = {
  judgeFitted: job(
    () => import('./judge-fitted.ts'),
    ({ judgeFitted }, cell) => judgeFitted(cell),
  ),
};
