// `seamwright verify FOLDER`: what is whole in the folder of a page or of a series; what is not goes back to its last whole step.
import type { Command } from 'commander';
import { verifyFolder } from '../commands/verify.ts';
import { printOut } from './terminal.ts';

export function addVerifyCommand(program: Command): void {
  program
    .command('verify')
    .description("say what is whole in a page's or series' folder, and bring back the last whole step of what is not")
    .argument('<folder>', 'the folder of a page, or the one into which a series was made')
    .option('--json', 'print the result as JSON')
    .action(async (folder: string, call: { json?: boolean }) => {
      const found = await verifyFolder(folder);
      if (call.json) printOut(`${JSON.stringify(found)}\n`);
      else
        printOut(
          [
            `${folder}: ${found.whole.length} whole, ${found.mended.length} brought back, ${found.lost.length} lost.`,
            ...found.mended.map(({ name, says }) => `Brought back ${name}: ${says}.`),
            ...found.lost.map(({ name, says }) => `Lost ${name}: ${says}.`),
            '',
          ].join('\n'),
        );
      process.exitCode = found.lost.length ? 1 : 0;
    });
}
