// `npm run bench`: the time of each stage beside a yardstick. `npm run bench -- fit`: what the fit is worth.
import { benchFit } from './bench/fit.ts';
import { benchStages } from './bench/stages.ts';

const [what = 'stages', ...rest] = process.argv.slice(2);
if (what === 'fit') await benchFit(rest);
else if (what === 'stages') await benchStages();
else {
  console.error(`There is no bench "${what}": npm run bench, or npm run bench -- fit`);
  process.exitCode = 2;
}
