// After the declarations were bundled: a comment that tells the compiler to pass over the next line has to have a next line. The
// bundler puts both on one, and programs that check the declarations of their libraries would fail at zod's.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const dist = join(import.meta.dirname, '..', 'dist');
for (const file of readdirSync(dist).filter((f) => f.endsWith('.d.ts'))) {
  const text = readFileSync(join(dist, file), 'utf8');
  const mended = text.replace(/[ \t]*(\/\*\* @ts-ignore [^*]*\*\/)[ \t]*(?=\S)/g, '\n$1\n');
  if (mended !== text) writeFileSync(join(dist, file), mended);
}
