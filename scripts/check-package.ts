// Packs what is built, installs it in an empty folder and tries it out there, as somebody does who has only the package: npm run
// check:package, after npm run build.
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { compile, install, makeFolder, pack } from './package/install.ts';
import { readThrough, tryOut } from './package/try-out.ts';

const folder = makeFolder();
try {
  const user = join(folder, 'user');
  install(process.execPath, user, pack(folder));
  readThrough(user);
  compile(user);
  await tryOut(process.execPath, user);
  console.log(`Package: packed, installed, compiled against and tried out with Node ${process.version}.`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
