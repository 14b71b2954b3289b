// `--fabrics FILE|FOLDER` of a block made from a picture: the fabrics that someone has.
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { readInput, readText } from '../files.ts';
import { UserError } from '../problems/problem.ts';
import type { Settings } from '../settings/settings.ts';

/** Files of a folder that are no snapshots and are passed over. */
const OTHER = /^\.|\.(txt|csv|json|md|db|ini|pdf|html?)$/i;
const MOST_SNAPSHOTS = 200;

/** Throws UserError that names the file. */
export async function clothsOf(given: {
  readonly fabrics?: string;
  readonly again?: boolean;
}): Promise<Partial<Pick<Settings, 'cloths' | 'again'>>> {
  const { fabrics: path } = given;
  if (!path) {
    if (given.again)
      throw new UserError(
        'goes-with',
        { field: 'again', with: 'fabrics', because: 'the fabrics that may be used again' },
        2,
      );
    return {};
  }
  const [{ readCloth }, { readCloths, soundCloths }] = await Promise.all([
    import('../pipeline/read.ts'),
    import('../shade/read-cloths.ts'),
  ]);
  const again = given.again === true;
  const info = await stat(path).catch(() => undefined);
  if (!info?.isDirectory()) return { again, cloths: readCloths(await readText(path, 'list of fabrics'), path) };
  const names = (await readdir(path)).filter((n) => !OTHER.test(n)).sort();
  if (names.length > MOST_SNAPSHOTS)
    throw new UserError('too-many-snapshots', { folder: path, files: names.length, most: MOST_SNAPSHOTS }, 2);
  const cloths = [];
  for (const name of names) cloths.push(await readCloth(await readInput(join(path, name)), join(path, name)));
  return { again, cloths: soundCloths(cloths, path) };
}
