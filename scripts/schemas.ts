// Writes every published JSON Schema beside the built program: dist/block.schema.json and its like.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { SCHEMAS } from '../src/cli/schemas.ts';

const dist = join(import.meta.dirname, '..', 'dist');
for (const [name, schema] of Object.entries(SCHEMAS))
  writeFileSync(join(dist, `${name}.schema.json`), `${JSON.stringify(await schema(), null, 2)}\n`);
