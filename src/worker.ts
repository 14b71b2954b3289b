// Where every worker thread begins: it does the jobs of all rooms, and loads the code of each with the first of its kind.

import { compareJobs } from './compare/jobs.ts';
import { pageJobs } from './page/server/jobs.ts';
import { blockJobs } from './pipeline/jobs.ts';
import { seriesJobs } from './series/jobs.ts';
import { serve } from './threads/serve.ts';

// stacks of what jobs load name the lines of the sources, as in the program's own thread
if (process.env.SEAMWRIGHT_TRACE) process.setSourceMapsEnabled(true);
serve(blockJobs, compareJobs, seriesJobs, pageJobs);
