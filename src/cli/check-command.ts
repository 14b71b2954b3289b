// `seamwright check FILE`: can this design be sewn, and how; or where not, and what would mend it.
import type { Command } from 'commander';
import { allowanceOf } from '../block.ts';
import { filesOf, judge, printJudged } from '../commands/check.ts';
import type { Fault } from '../data.ts';
import { outputPath, readText, refuseToOverwrite, writeOutputs } from '../files.ts';
import { isBlockFile, type Judgement } from '../pipeline/judge.ts';
import { UserError } from '../problems/problem.ts';
import type { Words } from '../settings/words.ts';
import { formatLength, MM_PER_INCH, mm, parseLength, parseSize, type System } from '../units.ts';
import { addSettings, settingsOf } from './options.ts';
import { showProgress } from './progress.ts';
import { printOut, tell } from './terminal.ts';

interface Call extends Words {
  out?: string;
  size?: string;
  near: string;
  repair?: boolean;
  json?: boolean;
  timings?: boolean;
  force?: boolean;
}

export function addCheckCommand(program: Command): void {
  const command = program
    .command('check')
    .description('say whether a block file or a drawing of straight lines (SVG) can be sewn, or where it cannot')
    .argument('<file>', 'a block file, or an SVG of lines, polylines, polygons and straight paths')
    .option('--repair', 'mend it: carry seams on, divide pieces that turn inward, number it anew')
    .option('--near <length>', 'line ends this close are meant to meet', '0.5mm');
  addSettings(command, ['name', 'size', 'level', 'mostPieces', 'paper', 'units', 'packet', 'designer'], {
    name: "the block's name (default: the file's)",
    size: 'finished size: 12in, 30cm, 10x14in (default: as drawn)',
    level: 'who sews it',
  })
    .option('--out <folder>', 'write the block and its packet there, or a picture with the faulty places marked')
    .option('--json', 'print the result as JSON')
    .option('--force', 'replace files that are there already')
    .action(run);
}

async function run(file: string, call: Call): Promise<void> {
  const text = await readText(file, 'block file or drawing');
  const { size, ...words } = call;
  const asked = settingsOf(words, file);
  if (size && isBlockFile(text)) throw new UserError('size-is-for-drawings', { field: 'size' }, 2);
  const judged = await judge(
    text,
    file,
    {
      near: parseLength(call.near, 'near'),
      repair: call.repair === true,
      ...(size && { size: parseSize(size, 'size') }),
    },
    asked,
  );
  // a block that was printed before keeps its allowance
  const settings = isBlockFile(text) && judged.block ? { ...asked, allowance: mm(allowanceOf(judged.block)) } : asked;
  const written = call.out === undefined ? undefined : await writeAll(call.out);
  report(judged, file, written, { json: call.json === true, units: settings.units });
  process.exitCode = judged.faults.length ? 1 : 0;

  async function writeAll(out: string): Promise<Record<string, string>> {
    const ending = { marked: 'marked.png', block: 'block.json', preview: 'preview.png', packet: 'packet.pdf' };
    const files = Object.fromEntries(filesOf(judged).map((f) => [f, outputPath(out, `${settings.name}.${ending[f]}`)]));
    refuseToOverwrite(Object.values(files), call.force === true);
    const progress = showProgress(call.timings);
    try {
      const bytes: Readonly<Record<string, Uint8Array>> = await printJudged(judged, settings, { progress });
      await writeOutputs(new Map(Object.entries(files).map(([k, path]) => [path, bytes[k]!])), call.force === true);
      return files;
    } finally {
      progress.finish();
    }
  }
}

function report(
  judged: Judgement,
  file: string,
  files: Readonly<Record<string, string>> | undefined,
  { json, units }: { readonly json: boolean; readonly units: System },
): void {
  const { block, faults, repairs, joined, notes, partition } = judged;
  const pieces = partition.pieces.length;
  if (json) {
    printOut(
      `${JSON.stringify({
        sewable: faults.length === 0,
        pieces,
        ...(block && { sections: block.sections.length }),
        ...(judged.fewest !== undefined && { fewest: judged.fewest }),
        size: partition.size,
        faults,
        joined,
        repairs,
        notes,
        ...(block && {
          order: {
            sections: block.sections.map((s) => ({ id: s.id, pieces: s.pieces.map((p) => p.number) })),
            joins: block.joins.map(({ number, left, right }) => ({ number, left, right })),
          },
        }),
        ...(files && { files }),
      })}\n`,
    );
    return;
  }
  for (const n of notes) tell(`Mind: ${n}\n`);
  const mended = [...new Set(repairs.map((r) => r.text))].map((t) => {
    const n = repairs.filter((r) => r.text === t).length;
    return n > 1 ? `${t} (${n} times)` : t;
  });
  const lines: string[] = mended.length ? [`Mended: ${mended.join('; ')}.`] : [];
  if (block) {
    const sections = block.sections.length;
    lines.push(
      `${file} can be sewn: ${pieces} pieces in ${sections} ${sections === 1 ? 'section' : 'sections'}${judged.fewest === false ? ' (there may be a way with fewer)' : ''}.`,
    );
    for (const s of block.sections)
      lines.push(`  ${s.id}: ${s.pieces.length} ${s.pieces.length === 1 ? 'piece' : 'pieces'}`);
    for (const j of block.joins) lines.push(`  join ${j.number}: ${sideOfJoin(j.left)} + ${sideOfJoin(j.right)}`);
    if (files) lines.push(`Print ${files.packet} at 100 %; the finished block is in ${files.preview}.`);
    else lines.push('Add --out FOLDER for its templates and packet.');
  } else {
    lines.push(`${file} cannot be sewn, for ${faults.length === 1 ? 'one reason' : `${faults.length} reasons`}:`);
    faults.forEach((f, i) => {
      lines.push(`  ${i + 1}. ${placeOf(f.at, units)}: ${inUnits(f.text, units)}`);
    });
    lines.push(
      files
        ? `The places are marked in ${files.marked}.`
        : 'Add --out FOLDER for a picture with the places marked, --repair to have it mended.',
    );
  }
  printOut(`${lines.join('\n')}\n`);
}

/** "at 10.5, 20 mm", or in inches "2 1/2 in from the left, 3 in from the top". */
const placeOf = ([x, y]: Fault['at'], units: System): string =>
  units === 'metric'
    ? `at ${[x, y].map((v) => Math.round(v * 10) / 10).join(', ')} mm`
    : `${formatLength(x, units)} from the left, ${formatLength(y, units)} from the top`;

/** Faults are told in mm; what an inch ruler can show is said in inches. */
const inUnits = (text: string, units: System): string =>
  units === 'metric'
    ? text
    : text.replace(/(\d+(?:\.\d+)?) mm\b/g, (said, length: string) =>
        Number(length) < MM_PER_INCH / 16 ? said : formatLength(Number(length), units),
      );

/** Sections that are one by now are neighbours in the alphabet: "A", "A B C", "A to N". */
const sideOfJoin = (ids: readonly string[]): string => (ids.length > 3 ? `${ids[0]} to ${ids.at(-1)}` : ids.join(' '));
