// Where every worker thread begins: it does the jobs of all rooms, and loads the code of each with the first of its kind.

import { compareJobs } from './compare/jobs.ts';
import { pageJobs } from './page/server/jobs.ts';
import { blockJobs } from './pipeline/jobs.ts';
import { seriesJobs } from './series/jobs.ts';
import { serve } from './threads/serve.ts';

serve(blockJobs, compareJobs, seriesJobs, pageJobs);
