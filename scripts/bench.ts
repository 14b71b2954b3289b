// `npm run bench`: the time of whole commands and their stages beside a yardstick. `npm run bench -- fit`: what the fit is worth.
// `npm run bench -- series`: what a second worker is worth. `npm run bench -- queue`: what other computers are.
// `npm run bench -- fabric`: what the cutting plan is worth. `npm run bench -- packet`: what is printed, on every picture.
// `npm run bench -- pictures`: what posterising is worth. `npm run bench -- page`: how soon the page answers a change.
// `npm run bench -- drawings`: sheets of drawings to look at; `npm run bench -- figures`: whether their figures are found.
import { benchDrawings } from './bench/drawings.ts';
import { benchFabric } from './bench/fabric.ts';
import { benchFigures } from './bench/figures.ts';
import { benchFit } from './bench/fit.ts';
import { benchPacket } from './bench/packet.ts';
import { benchPage } from './bench/page.ts';
import { benchPictures } from './bench/pictures.ts';
import { benchQueue } from './bench/queue.ts';
import { benchSeries } from './bench/series.ts';
import { benchStages } from './bench/stages.ts';

const [what = 'stages', ...rest] = process.argv.slice(2);
if (what === 'fit') await benchFit(rest);
else if (what === 'drawings') await benchDrawings(rest);
else if (what === 'figures') await benchFigures(rest);
else if (what === 'fabric') await benchFabric(rest);
else if (what === 'packet') await benchPacket(rest);
else if (what === 'series') await benchSeries(rest);
else if (what === 'queue') await benchQueue(rest);
else if (what === 'pictures') await benchPictures(rest);
else if (what === 'page') await benchPage(rest);
else if (what === 'stages') await benchStages(rest);
else {
  console.error(
    `There is no bench "${what}": npm run bench, npm run bench -- fit, npm run bench -- fabric, npm run bench -- packet, npm run bench -- series, npm run bench -- queue, npm run bench -- pictures, npm run bench -- page, npm run bench -- drawings, npm run bench -- figures`,
  );
  process.exitCode = 2;
}
