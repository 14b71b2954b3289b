import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inflateSync } from 'node:zlib';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readBlock } from '../../src/block.ts';
import { callHere, fixture, runProgram } from './run-program.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-in-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));
const quickly = ['--effort', 'quick', '--pieces', '12', '--paper', 'letter', '--units', 'inch'];

/** All that a file says: its bytes, and what its compressed streams hold. */
function allText(bytes: Buffer): string {
  const parts = [bytes.toString('latin1')];
  for (let at = bytes.indexOf('stream\n'); at >= 0; at = bytes.indexOf('stream\n', at + 7))
    try {
      parts.push(inflateSync(bytes.subarray(at + 7)).toString('latin1'));
    } catch {
      // not a compressed stream
    }
  return parts.join('\n');
}

describe('pictures in', () => {
  test('no place, date, camera or words of the picture get into any file', async () => {
    const photo = join(folder, 'photo.jpg');
    await writeFile(
      photo,
      await sharp(fixture('photos/cat-chelsea-face.jpg'))
        .withExif({
          IFD0: { Make: 'SECRETMAKE', Artist: 'SECRETARTIST', ImageDescription: 'SECRETWORDS' },
          IFD2: { DateTimeOriginal: '2031:02:03 04:05:06' },
          IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 3230/100', GPSMapDatum: 'SECRETDATUM' },
        })
        .withXmp(
          '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">SECRETXMP</rdf:RDF></x:xmpmeta>',
        )
        .toBuffer(),
    );
    expect((await readFile(photo)).includes('SECRETARTIST')).toBe(true);
    // its words are gone or not once it is read: no animal need be found in it
    const plainly = ['--kind', 'photo', '--show', 'picture', '--background', 'keep', ...quickly];
    const made = await runProgram(['block', photo, '--out', join(folder, 'made'), '--json', ...plainly], folder);
    expect(made.code, made.err).toBe(0);
    for (const name of await readdir(join(folder, 'made')))
      expect(allText(await readFile(join(folder, 'made', name))), name).not.toMatch(/SECRET|2031:02:03|Exif/);
    expect(made.out).not.toMatch(/SECRET|2031/);
  });

  test("one's own fabrics: a list, and a folder of snapshots with a directional one", async () => {
    const cloths = join(folder, 'cloths');
    await mkdir(cloths);
    const colours = {
      'big_fox (directional).png': '#f06010',
      'snow.jpg': '#fcfcfc',
      'coal.png': '#202428',
      'oat.png': '#d8c8b0',
    };
    for (const [name, background] of Object.entries(colours))
      await writeFile(
        join(cloths, name),
        await sharp({ create: { width: 90, height: 70, channels: 3, background } })
          .toFormat(name.endsWith('jpg') ? 'jpeg' : 'png')
          .toBuffer(),
      );
    await writeFile(join(cloths, 'notes.txt'), 'bought in spring');
    const fox = fixture('flat/noto-fox.svg');
    const made = await runProgram(['block', fox, '--out', 'own', '--json', '--fabrics', cloths, ...quickly], folder);
    expect(made.code, made.err).toBe(0);
    const said = JSON.parse(made.out);
    const names = said.fabrics.map((f: { name: string }) => f.name);
    expect(names).toContain('big fox');
    expect(new Set(names).size).toBe(names.length);
    expect(said.choices.cloths).toHaveLength(names.length);
    const block = readBlock(await readFile(join(folder, 'own', 'noto-fox.block.json'), 'utf8'), 'fox');
    expect(block.fabrics.find((f) => f.name === 'big fox')).toMatchObject({ print: 'directional' });

    const list = join(folder, 'mine.csv');
    await writeFile(list, 'only,#112233\n');
    const refused = await callHere(['block', fox, '--out', 'no', '--fabrics', list, ...quickly], folder);
    expect([refused.code, refused.err]).toEqual([2, expect.stringMatching(/at least two fabrics/)]);
    await writeFile(list, 'name,colour\nred,crimson\n');
    const wrong = await callHere(['block', fox, '--out', 'no', '--fabrics', list, ...quickly], folder);
    expect([wrong.code, wrong.err]).toEqual([1, expect.stringMatching(/line 2: write the colour of "red" as #rrggbb/)]);
  });

  test('a verdict on the picture is said before the fitting begins, once', async () => {
    const soft = join(folder, 'soft.png');
    const photo = sharp(fixture('photos/dog-shepherd-dry-grass.jpg')).resize(400, 400).linear(0.25, 0).blur(8);
    await writeFile(soft, await photo.png().toBuffer());
    const as = ['--kind', 'photo', '--show', 'picture', '--background', 'keep'];
    const said = await runProgram(['block', soft, '--out', 'soft', ...as, ...quickly], folder);
    expect(said.code, said.err).toBe(0);
    const lines = said.err.split('\n');
    const fitting = lines.findIndex((l) => l.startsWith('fitting'));
    for (const verdict of [/^Mind: .*very dark.*light from the side/, /^Mind: .*blurred; hold the camera still/]) {
      const at = lines.flatMap((l, i) => (verdict.test(l) ? [i] : []));
      expect(at, said.err).toHaveLength(1);
      expect(at[0]).toBeLessThan(fitting);
    }
  });

  test.each([
    [['--focus', '0.5,0.5'], /--focus: "0.5,0.5" is not x,y,r/],
    [['--focus', '0.5,0.5,0.2,99'], /weight from 1 to 10/],
    [['--subject', '0.5,0.5,0.9,0.9'], /--subject .* is not inside/],
    [['--crop', 'auto,1'], /--crop: "auto,1" is not x,y,width,height/],
    [['--sheet', '0.1,0.1,0.9,0.1'], /--sheet: "0.1,0.1,0.9,0.1" is neither "no" nor four corners/],
    [['--sheet', '0.1,0.1,0.1,0.9,0.9,0.9,0.9,0.1'], /clockwise from the top left/],
    [['--shades', 'many'], /--shades: "many"/],
    [['--again'], /--again goes with --fabrics/],
  ])('refuses %s with one sentence', async (args, reason) => {
    const said = await callHere(['block', fixture('photos/cat-chelsea-face.jpg'), '--out', 'none', ...args], folder);
    expect(said.code).toBe(2);
    expect(said.err).toMatch(reason);
  });
});
