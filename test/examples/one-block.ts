// One picture -> one block: a packet to print, a preview, and the block file.
// node one-block.js biscuit.jpg out
import { readFile, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { inches, makeBlock, UserError } from 'seamwright';

const [picture, folder = '.'] = process.argv.slice(2);
if (!picture) throw new Error('Name a picture.');

try {
  const made = await makeBlock(await readFile(picture), {
    fileName: basename(picture),
    size: [inches(10), inches(10)],
    shades: 4,
    pieces: 30,
    effort: 'quick',
  });
  const { name, sections } = made.block;
  await writeFile(join(folder, `${name}.packet.pdf`), made.files.packet);
  await writeFile(join(folder, `${name}.preview.png`), made.files.preview);
  await writeFile(join(folder, `${name}.block.json`), made.files.block);
  const pieces = sections.reduce((sum, section) => sum + section.pieces.length, 0);
  console.log(`${name}: ${pieces} pieces in ${sections.length} sections on ${made.sheets} sheets`);
  for (const warning of made.warnings) console.log(`- ${warning}`);
} catch (error) {
  // what the person who chose the picture can mend; everything else is a fault of the program
  if (!(error instanceof UserError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
