// `seamwright schema`: the published JSON Schemas of the files that people and programs write.
import { Argument, type Command } from 'commander';
import { SCHEMAS, type SchemaName } from './schemas.ts';
import { printOut } from './terminal.ts';

export function addSchemaCommand(program: Command): void {
  program
    .command('schema')
    .description('print the JSON Schema of block files, of settings, or of the settings file of a series')
    .addArgument(new Argument('[of]', 'what it describes').choices(Object.keys(SCHEMAS)).default('block'))
    .action(async (of: SchemaName) => {
      printOut(`${JSON.stringify(await SCHEMAS[of](), null, 2)}\n`);
    });
}
