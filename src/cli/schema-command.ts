// `seamwright schema`: the published JSON Schema of block files.
import type { Command } from 'commander';
import { blockJsonSchema } from '../block.ts';
import { printOut } from './terminal.ts';

export function addSchemaCommand(program: Command): void {
  program
    .command('schema')
    .description('print the JSON Schema of block files')
    .action(() => printOut(`${JSON.stringify(blockJsonSchema(), null, 2)}\n`));
}
