// A folder of drawings -> a block of each, and a table of how much work and fabric each takes. A file that cannot be used is reported
// and does not stop the others.
// node folder-of-drawings.js drawings out
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { makeBlock, type Options, planYardage, UserError } from 'seamwright';

const [folder, out = 'out'] = process.argv.slice(2);
if (!folder) throw new Error('Name a folder of drawings.');

const options: Options = { kind: 'drawing', level: 'beginner', paper: 'a4', units: 'metric', effort: 'quick' };
const rows = ['drawing,pieces,sections,hours,fabric'];
await mkdir(out, { recursive: true });
for (const file of (await readdir(folder)).sort()) {
  try {
    const { block, files } = await makeBlock(await readFile(join(folder, file)), { ...options, fileName: file });
    await writeFile(join(out, `${block.name}.packet.pdf`), files.packet);
    await writeFile(join(out, `${block.name}.block.json`), files.block);
    const { blocks, shopping } = planYardage([block], { cloth: { system: 'metric' } });
    const { pieces, sections, hours } = blocks[0]!.work;
    rows.push([file, pieces, sections, hours.beginner, `"${shopping.buy}"`].join(','));
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    console.error(error.message);
  }
}
await writeFile(join(out, 'work.csv'), `${rows.join('\n')}\n`);
console.log(rows.join('\n'));
