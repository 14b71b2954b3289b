// Snapshots of cloth that were given to a work: each with what was read off it, beside the work's steps.
import { randomBytes } from 'node:crypto';
import { copyFile, mkdir, readFile, rm } from 'node:fs/promises';
import { nameWhole, syncFolder } from '../../files.ts';
import type { WorkCloth } from '../api.ts';
import type { Crew } from './crew.ts';
import { NotHere } from './held.ts';
import type { Folder } from './keep.ts';

/** A snapshot that lies at `file` becomes one of the work's cloths. Throws UserError for what is no picture. */
export async function addCloth(id: string, file: string, name: string, folder: Folder, crew: Crew): Promise<WorkCloth> {
  const cloth = `cloth-${randomBytes(4).toString('hex')}`;
  const box = folder.work(id, 'cloths');
  await mkdir(box, { recursive: true });
  await syncFolder(folder.work(id));
  const part = `${box}/${cloth}.jpg.part`;
  try {
    const snapshot = { path: file, name, id: cloth, middle: part };
    const found = await crew.ask('readSnapshot', snapshot, id).answer;
    // the picture first: a cloth that is there can be shown
    await nameWhole(part, `${box}/${cloth}.jpg`);
    await folder.write(`${box}/${cloth}.json`, `${JSON.stringify(found)}\n`);
    return found;
  } finally {
    await rm(part, { force: true });
  }
}

/** Throws NotHere where the work has no such cloth. */
export async function readCloth(id: string, cloth: string, folder: Folder): Promise<WorkCloth> {
  try {
    return JSON.parse(await readFile(folder.work(id, 'cloths', `${cloth}.json`), 'utf8')) as WorkCloth;
  } catch {
    throw new NotHere();
  }
}

/** One whose snapshot is there already. */
export async function copyCloth(id: string, plain: WorkCloth, picture: string, folder: Folder): Promise<WorkCloth> {
  const cloth = `cloth-${randomBytes(4).toString('hex')}`;
  const box = folder.work(id, 'cloths');
  await mkdir(box, { recursive: true });
  const found: WorkCloth = { ...plain, id: cloth };
  await copyFile(picture, `${box}/${cloth}.jpg`);
  await folder.write(`${box}/${cloth}.json`, `${JSON.stringify(found)}\n`);
  return found;
}
